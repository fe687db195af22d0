import { stripVTControlCharacters } from 'node:util'
import { render } from 'ink'
import { describe, expect, test } from 'vitest'
import { builtIn, warmUpNamed } from '../../../src/app/presets.ts'
import { DEFAULT_LEVELS } from '../../../src/click/voices.ts'
import { checked } from '../../../src/music/result.ts'
import { WARM_UP_KEYS } from '../../../src/screens/warmup/key-table.ts'
import { newState } from '../../../src/screens/warmup/reduce.ts'
import { WarmUpView } from '../../../src/screens/warmup/view.tsx'
import { pedalWords, plannedWords } from '../../../src/screens/warmup/words.ts'
import { inkStreams } from '../../../src/terminal/ink-streams.ts'
import { keyHints, USUAL_KEYS } from '../../../src/terminal/key-table.ts'
import { exercisesOf } from '../../../src/warm-up/exercises.ts'
import { newWarmUp, step, type WarmUpState } from '../../../src/warm-up/turns.ts'
import { TWO } from '../controls.ts'

const steered = (warmUp: WarmUpState) => ({
  pedals: pedalWords({ ...newState([], DEFAULT_LEVELS), warmUp }, TWO, 0),
  keys: keyHints(WARM_UP_KEYS, 'turns', USUAL_KEYS),
})
const frame = (state: WarmUpState, cols: number, rows: number, beat = 'count-in 2'): string[] => {
  let text = ''
  const { options } = inkStreams(
    () => ({ rows, cols }),
    t => {
      text = t
    },
  )
  const size = { rows, cols }
  render(
    <WarmUpView
      title="Mornings"
      state={state}
      beat={beat}
      trouble="The disk is full."
      size={size}
      {...steered(state)}
    />,
    options,
  ).unmount()
  return stripVTControlCharacters(text).trimEnd().split('\n')
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
    [120, 36],
    [40, 12],
  ])('is whole at %d by %d: what to play, tempo, turn, beat, pedals and trouble', (cols, rows) => {
    const shown = frame(step(state, 'start'), cols, rows)
    expect(shown.length).toBeLessThan(rows)
    for (const row of shown) expect(row.length).toBeLessThanOrEqual(cols)
    const [e] = state.exercises
    for (const part of [e?.item ?? '', ' of ', 'count-in 2', 'right', 'again', 'w wait', 'disk is full'])
      expect(shown.join('\n')).toContain(part)
    expect(shown.join('\n')).toMatch(cols < 78 ? /quarter = \d/ : /█.*quarter/)
    for (const line of e?.notes ?? []) expect(shown.join('\n')).toContain(line.slice(0, cols - 4))
    if (cols >= 80) expect(shown.join(' ')).toContain((e?.words ?? '').slice(0, 40))
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
  expect(frame(state, 80, 24, '').join('\n')).toMatch(/either pedal .*: start/)
  expect(frame(step(state, 'start'), 80, 24, '').join('\n')).toMatch(/^ +rest$/m)
})

test('in the plan of a day its whole minutes stand there; when they are over nothing is taken away', () => {
  expect([plannedWords(8), plannedWords(0)]).toEqual([
    '8 min left',
    'its minutes are over   f: what comes next',
  ])
})
