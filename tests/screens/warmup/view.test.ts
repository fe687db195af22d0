import { describe, expect, test } from 'vitest'
import { builtIn, warmUpNamed } from '../../../src/app/presets.ts'
import { checked } from '../../../src/music/result.ts'
import { bigText } from '../../../src/screens/glyphs.ts'
import { WARM_UP_KEYS } from '../../../src/screens/warmup/key-table.ts'
import { newState } from '../../../src/screens/warmup/reduce.ts'
import { type Shown, warmUpSheet } from '../../../src/screens/warmup/view.ts'
import { pedalWords, plannedWords } from '../../../src/screens/warmup/words.ts'
import { keyHints, USUAL_KEYS } from '../../../src/terminal/key-table.ts'
import { exercisesOf } from '../../../src/warm-up/exercises.ts'
import { newWarmUp, step, turnProgram, type WarmUpState } from '../../../src/warm-up/turns.ts'
import { RATE } from '../../click/support.ts'
import { TWO } from '../controls.ts'
import { drawn } from '../drawn.ts'

const steered = (warmUp: WarmUpState) => ({
  pedals: pedalWords({ ...newState([]), warmUp }, TWO, 0),
  keys: keyHints(WARM_UP_KEYS, 'turns', USUAL_KEYS),
})
/** Seconds into the turn; null = nothing is heard. */
const frame = (
  state: WarmUpState,
  cols: number,
  rows: number,
  seconds: number | null = 1.1,
  more: Partial<Shown> = {},
): string[] => {
  const size = { rows, cols }
  const program = turnProgram(state, RATE, null)
  const sheet = warmUpSheet({
    title: 'Mornings',
    state,
    heard: seconds === null ? null : { program, frame: Math.round(seconds * RATE) },
    planned: '',
    trouble: 'The disk is full.',
    motion: 'step',
    size,
    ...steered(state),
    ...more,
  })
  return drawn(sheet.rows)
}
const NAMES = ['first-minutes', 'thirds-and-sixths', 'minor-keys', 'beside-a-tone', 'brass-alternating']
const states = NAMES.flatMap(name => {
  const exercises = exercisesOf(checked(warmUpNamed(builtIn(), name)), {
    today: '2031-03-15',
    remembered: [],
    tuning: { a: 442, transposition: 'Bb' },
  })
  return exercises.map(e => ({ name: `${name}: ${e.item}`, state: newWarmUp([e]) }))
})

describe.each(states)('$name', ({ state }) => {
  test.each([
    [80, 24],
    [100, 30],
    [120, 36],
    [160, 48],
    [50, 14],
    [40, 12],
  ])('is whole at %d by %d: what to play, tempo, turn, beat, pedals and trouble', (cols, rows) => {
    const shown = frame(step(state, 'start'), cols, rows)
    expect(shown.length).toBeLessThanOrEqual(rows)
    for (const row of shown) expect(row.length).toBeLessThanOrEqual(cols)
    const [e] = state.exercises
    for (const part of [e?.item ?? '', ' of ', 'count-in', 'right', 'again', 'disk is full'])
      expect(shown.join('\n')).toContain(part)
    // In figures; where there is no room beside what is to be played, in words.
    expect(shown.join('\n')).toMatch(cols < 78 ? /quarter = \d|█(.|\n)*quarter/ : /█.*quarter/)
    const words = shown.join(' ').replaceAll(/\s+/g, ' ')
    for (const line of e?.notes ?? []) expect(words).toContain(line.replaceAll(/\s+/g, ' '))
    if (cols >= 80) expect(words).toContain(e?.words ?? '')
    if (cols >= 80) expect(words).toContain('w wait')
  })
})

test('a tone is named as written and at concert pitch, and said to be off', () => {
  const tone = states.find(s => s.name.startsWith('beside'))?.state as WarmUpState
  expect(frame(tone, 80, 24).join('\n')).toContain(
    'tone: C 4 as written, B flat 3 at concert pitch; A = 442 Hz',
  )
  expect(frame(step(tone, 'tone'), 80, 24).join('\n')).toContain('(off) tone: C 4')
})

test('in the silence before a count-in it says rest; before the start it says how to start', () => {
  const { state } = states[0] as (typeof states)[0]
  expect(frame(state, 80, 24, null).join('\n')).toMatch(/either pedal .*: start/)
  for (const [warmUp, sign] of [
    [state, 'READY'],
    [step(state, 'start'), 'REST'],
    [step(step(state, 'start'), 'wait'), 'WAIT'],
  ] as const)
    for (const row of bigText(sign, 3))
      expect(frame(warmUp, 80, 24, null).join('\n')).toContain(row.trimEnd())
})

test('in the plan of a day its whole minutes stand there; when they are over nothing is taken away', () => {
  expect([plannedWords(8), plannedWords(0)]).toEqual([
    '8 min left',
    'its minutes are over   f: what comes next',
  ])
})
