import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { alteredClick, type ClickPlan, clickAt, clickWords, tempoWords } from '../../src/click/by-tempo.ts'
import { compile } from '../../src/click/compile.ts'
import { rungs } from '../../src/ladder/rungs.ts'
import { always, type Changing } from '../../src/music/changing.ts'
import { CLICKED, type Clicked } from '../../src/music/clicked.ts'
import { type Form, plainForm } from '../../src/music/form.ts'
import { type Frac, frac } from '../../src/music/fraction.ts'
import { NOTE_VALUES } from '../../src/music/note-value.ts'
import type { Rhythm } from '../../src/music/rhythm.ts'
import { compareTempo, type Tempo, tempo } from '../../src/music/tempo.ts'
import { anyMeter, anyTempo } from '../music/any.ts'
import { framesOf, meter, music, RATE, tempoOf } from './support.ts'

const FOUR = music('4/4', 2, '120')
const PLAIN: ClickPlan = { countIn: 1 }

const plan = (
  texts: { readonly [K in keyof Clicked]?: string },
  more: Partial<ClickPlan> = {},
): ClickPlan => ({
  ...PLAIN,
  ...more,
  ...Object.fromEntries(
    Object.entries(texts).map(([k, text]) => {
      const read = CLICKED[k as keyof Clicked].parse(text, k)
      if (!read.ok) throw new Error(read.problem.accepted)
      return [k, read.value]
    }),
  ),
})

const at = (p: ClickPlan, t: string, goal = '120', form: Form = FOUR) =>
  clickAt(p, form, tempoOf(t), tempoOf(goal))

/** Clicks to a beat on each rung, where nobody chose them. */
const subdivided = (tempos: readonly string[], goal: string, form = FOUR, p = PLAIN): number[] =>
  tempos.map(t => at(p, t, goal, form).subdivide)

// Common practice, no source; the limits (60 beats a minute, 80 % of the goal) are our own.
describe('subdivisions that nobody chose', () => {
  test('from 40 to 120 they sound below 60 beats a minute, then no more', () => {
    const all = rungs(tempo(40), tempo(120), { kind: 'notch' })
    const on = all.ok ? all.value.filter(t => clickAt(PLAIN, FOUR, t, tempo(120)).subdivide === 2) : []
    expect(on.map(t => t.bpm.n)).toEqual([40, 42, 44, 46, 48, 50, 52, 54, 56, 58])
  })

  test('a slow goal is played without: they end at 80 % of it', () => {
    expect(subdivided(['36', '47.9', '48', '58', '60'], '60')).toEqual([2, 2, 1, 1, 1])
  })

  test('two to a simple beat, three to a dotted one', () => {
    const six = music('6/8', 2, 'dotted-quarter=80')
    expect(subdivided(['dotted-quarter=44'], 'dotted-quarter=80', six)).toEqual([3])
    expect(subdivided(['half=44'], 'half=80')).toEqual([2])
    // Quarters over 6/8 click as dotted quarters: 60 quarters are 40 of these.
    expect(subdivided(['quarter=60', 'quarter=90'], 'quarter=140', six)).toEqual([3, 1])
  })

  test('a beat of five stays whole', () => {
    expect(subdivided(['half=20'], 'half=80', music('5+5/8', 2, 'half=80'))).toEqual([1])
  })

  test('the shortest beat of unequal ones is divided in two', () => {
    expect(subdivided(['quarter=50'], 'quarter=120', music('7/8', 2, 'quarter=120'))).toEqual([2])
  })

  test('what was typed wins, also for a part of the ladder', () => {
    expect(subdivided(['40', '110'], '120', FOUR, plan({ subdivide: '3' }))).toEqual([3, 3])
    expect(subdivided(['40', '58'], '120', FOUR, plan({ subdivide: '1' }))).toEqual([1, 1])
    expect(subdivided(['40', '80', '90'], '120', FOUR, plan({ subdivide: '4 from 90' }))).toEqual([2, 1, 4])
  })

  test('none beside a guide voice, in silence, or on a ladder that leads down', () => {
    const guide = { ratios: [3, 1], group: frac(1, 4) }
    for (const more of [{ guide }, { silent: true as const }, { toward: 'down' as const }])
      expect(subdivided(['40'], '120', FOUR, { ...PLAIN, ...more })).toEqual([1])
  })

  test('a longer beat takes over with them only where the shorter one had not lost them', () => {
    // 40 eighths to 60, then quarters from 30: slow enough all the way.
    const slow = plan({ pulse: 'eighth; quarter from 30' })
    expect(subdivided(['20', '29', '30', '50', '60'], '120', FOUR, slow)).toEqual([2, 2, 2, 2, 1])
    // Quarters lose them at 60; the halves from 80 on (40 a minute) do not bring them back.
    const fast = plan({ pulse: 'quarter; half from 80' })
    expect(subdivided(['50', '70', '80', '90'], '138', FOUR, fast)).toEqual([2, 1, 1, 1])
  })
})

describe('the pulse by tempo', () => {
  const cut = plan({ pulse: 'quarter; half from quarter=100' })

  test('four to the measure below quarter = 100, two from there', () => {
    const beats = (t: string): number => {
      const p = compile(FOUR, tempoOf(t), { ...at(cut, t), rate: RATE })
      return framesOf(p, 'downbeat', 'beat').length
    }
    expect([beats('96'), beats('99.9'), beats('100'), beats('120')]).toEqual([8, 8, 4, 4])
  })

  test('both tempos are said: 66 halves a minute are 132 quarters', () => {
    const shown = (t: string, form = FOUR) => tempoWords(tempoOf(t), form, at(cut, t, '160', form).pulse)
    expect(shown('132')).toBe('half = 66, quarter = 132')
    expect(shown('96')).toBe('quarter = 96')
    expect(shown('half=66')).toBe('half = 66')
    // Three quarters have no half that fits: they click on.
    expect(shown('132', music('3/4', 2, '160'))).toBe('quarter = 132')
  })

  test('goes by the tempo also on a ladder that leads down', () => {
    const down: ClickPlan = { ...cut, toward: 'down' }
    expect([at(down, '120', '80').pulse, at(down, '96', '80').pulse]).toEqual([frac(1, 2), frac(1, 4)])
  })
})

describe('fewer clicks as the ladder climbs', () => {
  const thinner = plan({ beats: 'all; 1 from 112', on: 'all; 2 from 126', off: '2' })

  test('all beats, from 112 beat 1 alone, from 126 in two measures of four', () => {
    const words = (t: string) => clickWords(at(thinner, t, '144')).join(', ')
    expect([words('108'), words('112'), words('126')]).toEqual([
      '',
      'on beat 1',
      'on beat 1, 2 of 4 measures',
    ])
  })

  test('on a ladder that leads down harder is slower', () => {
    const down = plan({ beats: 'all; 1 from 66' }, { toward: 'down' })
    const beats = ['80', '66', '56'].map(t => at(down, t, '56').only?.beats)
    expect(beats).toEqual([undefined, [1], [1]])
  })

  test('in a rhythm they come where the quick notes run as the even ones do there', () => {
    // Long-short 3:1: the quick notes are twice as quick, so 112 is the click 56.
    const r: Rhythm = { name: '3:1', words: '3:1', ratios: [3, 1], over: 1 }
    const altered = alteredClick({ ...thinner, ...plan({ pulse: 'quarter; half from 100' }) }, r, {
      ratios: [3, 1],
      group: frac(1, 8),
    })
    expect([at(altered, '54').only, at(altered, '56').only]).toEqual([undefined, { beats: [1] }])
    // The pulse goes by the click that is heard.
    expect([at(altered, '56').pulse, at(altered, '100').pulse]).toEqual([frac(1, 4), frac(1, 2)])
    expect(at(altered, '40').subdivide).toBe(1)
  })

  test('beats that a measure in two does not have leave it as it is', () => {
    const p = plan({ pulse: 'quarter; half from 100', beats: '2,4; 3 from 110' })
    expect(['96', '100', '110'].map(t => at(p, t).only)).toEqual([
      { beats: [2, 4] },
      { beats: [2] },
      undefined,
    ])
  })
})

const by = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<Changing<T>> =>
  fc
    .array(fc.record({ from: anyTempo, value }), { maxLength: 3, size: 'max' })
    .chain(steps => value.map(first => [{ from: null, value: first }, ...steps]))

/** A beat that can't be divided, then one that can: found by chance once. */
const TENFOLD = { groups: [5, 5], unit: frac(1) }
const DOUBLE_DOTTED: Changing<Frac> = [
  { from: null, value: frac(7, 4) },
  { from: { unit: frac(3, 128), bpm: frac(448001, 1000) }, value: frac(7, 32) },
  { from: { unit: frac(7, 2), bpm: frac(1) }, value: frac(7, 4) },
]

test('whatever the plan and meter: usual subdivisions depend on the tempo alone, and once off they stay off', () => {
  const seen = { on: 0, off: 0, turned: 0, afterPulse: 0 }
  fc.assert(
    fc.property(
      anyMeter,
      by<Frac>(fc.constantFrom(...NOTE_VALUES.slice(3, 15))),
      fc.array(fc.integer({ min: 10, max: 250 }), { minLength: 2, maxLength: 15, size: 'max' }),
      fc.integer({ min: 30, max: 250 }),
      (m, pulse, bpms, top) => {
        const p: ClickPlan = { ...PLAIN, pulse }
        const goal = tempo(top)
        const form = plainForm(m, 2, goal)
        const climb: Tempo[] = bpms.map(b => tempo(b)).sort(compareTempo)
        const on = climb.map(t => clickAt(p, form, t, goal).subdivide > 1)
        const firstOff = on.indexOf(false)
        if (firstOff >= 0) expect(on.slice(firstOff)).not.toContain(true)
        // A rung that is met first is clicked as one that was climbed to.
        expect([...climb].reverse().map(t => clickAt(p, form, t, goal))).toEqual(
          climb.map(t => clickAt(p, form, t, goal)).reverse(),
        )
        seen.on += on.every(Boolean) ? 1 : 0
        seen.off += on.some(Boolean) ? 0 : 1
        seen.turned += firstOff > 0 ? 1 : 0
        seen.afterPulse += pulse.length > 2 && firstOff > 0 ? 1 : 0
      },
    ),
    { numRuns: 300, examples: [[TENFOLD, DOUBLE_DOTTED, [10, 43], 54]] },
  )
  for (const n of Object.values(seen)) expect(n).toBeGreaterThan(0)
})

describe('counted rests before an entry', () => {
  const rests: ClickPlan = { countIn: 2, silent: true, rests: 8, subdivide: always(2) }
  const form = music('3/4', 2, '120')
  const p = compile(form, tempo(120), { ...clickAt(rests, form, tempo(120), tempo(120)), rate: RATE })

  test('eight measures of three soft beats, then the passage without a click', () => {
    expect(p.onsets.map(o => o.role)).toEqual(Array(24).fill('rest'))
    expect(p.onsets.map(o => o.measure)).toEqual([-8, -7, -6, -5, -4, -3, -2, -1].flatMap(m => [m, m, m]))
    // 24 beats of half a second.
    expect(p.firstNote).toBe(12 * RATE)
  })

  test('the passage begins where its part says: a pick-up completes the last measure', () => {
    const up = plainForm(meter('4/4'), 2, tempo(120), frac(1, 4))
    const { onsets, firstNote } = compile(up, tempo(120), {
      ...clickAt({ ...rests, rests: 2 }, up, tempo(120), tempo(120)),
      rate: RATE,
    })
    expect(onsets.filter(o => o.measure < 0)).toHaveLength(8)
    expect(onsets.filter(o => o.measure === 0 && o.frame < firstNote)).toHaveLength(3)
  })
})

describe('what is not plain about a click, in words', () => {
  test.each([
    [{ subdivide: 1 }, []],
    [{ subdivide: 2 }, ['2 to the beat']],
    [{ subdivide: 1, only: { beats: [2] } }, ['on beat 2']],
    [{ subdivide: 1, only: { beats: [2, 4] } }, ['on beats 2, 4']],
    [{ subdivide: 1, only: { beats: [] } }, []],
    [{ subdivide: 1, only: { measures: { on: 2, off: 2 } } }, ['2 of 4 measures']],
    [
      { subdivide: 3, only: { beats: [1], measures: { on: 1, off: 3 } } },
      ['3 to the beat', 'on beat 1', '1 of 4 measures'],
    ],
  ])('%j', (click, words) => {
    expect(clickWords(click)).toEqual(words)
  })

  test('a pulse that was chosen is said with the tempo as written, where its beats are all of one length', () => {
    const seven = music('2+2+3/8', 2, 'eighth=120')
    expect(tempoWords(tempo(132), FOUR, undefined)).toBe('quarter = 132')
    expect(tempoWords(tempo(132), FOUR, frac(1, 4))).toBe('quarter = 132')
    expect(tempoWords(tempo(132), FOUR, frac(1, 2))).toBe('half = 66, quarter = 132')
    expect(tempoWords(tempoOf('eighth=120'), seven, frac(1, 4))).toBe('eighth = 120')
  })
})

test('a plan hands on what does not go by the tempo, and nothing else', () => {
  const guide = { ratios: [3, 1], group: frac(1, 8) }
  const all = plan({ pulse: 'half' }, { countIn: 2, freeRitardando: true, guide, rests: 8 })
  expect(at(all, '100')).toEqual({
    countIn: 2,
    subdivide: 1,
    pulse: frac(1, 2),
    freeRitardando: true,
    guide,
    rests: 8,
  })
  expect(at(PLAIN, '100')).toEqual({ countIn: 1, subdivide: 1 })
})

test('measures click in turn only where both numbers are there', () => {
  expect(at(plan({ on: '2', off: '1' }), '100').only).toEqual({ measures: { on: 2, off: 1 } })
  for (const half of [plan({ on: '2' }), plan({ off: '1' }), plan({ on: 'all', off: '1' })])
    expect(at(half, '100').only).toBeUndefined()
})

test('a silent passage clicks on no beat; a guide, silence and a ladder that leads down are never subdivided', () => {
  expect(at({ ...PLAIN, silent: true }, '40').only).toEqual({ beats: [] })
  const guide = { ratios: [3, 1], group: frac(1, 8) }
  expect(subdivided(['40'], '120')).toEqual([2])
  for (const more of [{ silent: true }, { guide }, { toward: 'down' }] as const)
    expect(subdivided(['40'], '120', FOUR, { ...PLAIN, ...more })).toEqual([1])
  // What was chosen stays chosen.
  expect(subdivided(['40'], '120', FOUR, plan({ subdivide: '3' }, { guide }))).toEqual([3])
})
