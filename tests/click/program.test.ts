import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { compile } from '../../src/click/compile.ts'
import type { Program } from '../../src/click/program.ts'
import { tempoMap } from '../../src/click/tempo-map.ts'
import type { Form } from '../../src/music/form.ts'
import { add, type Frac, frac, times, toNumber, zero } from '../../src/music/fraction.ts'
import { measureLength } from '../../src/music/meter.ts'
import type { Tempo } from '../../src/music/tempo.ts'
import { eighths, framesOf, meter, music, nearest, played, RATE, tempoOf } from './support.ts'

/** Frames of note positions (in eighths) at a steady number of eighths a minute. */
const atEighths = (positions: readonly number[], perMinute: number) =>
  nearest(positions.map(e => (e * 60) / perMinute))

describe('beats', () => {
  test('7/8 clicks in three unequal groups, or eighth by eighth when the tempo is in eighths', () => {
    expect(framesOf(played(music('7/8', 2, 'quarter=104')))).toEqual(atEighths([0, 2, 4, 7, 9, 11], 208))
    const counted = played(music('7/8', 1, 'eighth=208'))
    expect(counted.onsets.map(o => o.role)).toEqual([
      'downbeat',
      'beat',
      'group',
      'beat',
      'group',
      'beat',
      'beat',
    ])
  })

  test('3+2/8 and 5/8 differ in where the second group starts', () => {
    expect(framesOf(played(music('3+2/8', 1, 'dotted-quarter=60')))).toEqual(atEighths([0, 3], 180))
    expect(framesOf(played(music('5/8', 1, 'quarter=90')))).toEqual(atEighths([0, 2], 180))
  })

  test('meters change at bar lines: 3/4, 7/8, 2/4 at a quarter of 120', () => {
    const meters = ['3/4', '7/8', '2/4'].map(meter)
    const lengths = meters.map(measureLength)
    const form: Form = {
      ...music('3/4', 1, '120'),
      meters: meters.map((m, i) => ({ at: lengths.slice(0, i).reduce(add, zero), meter: m })),
      length: lengths.reduce(add, zero),
    }
    const p = played(form)
    expect(framesOf(p, 'downbeat')).toEqual(nearest([0, 1.5, 3.25]))
    expect(p.end).toBe(4.25 * RATE)
    expect(framesOf(p)).toEqual(nearest([0, 0.5, 1, 1.5, 2, 2.5, 3.25, 3.75]))
  })

  test('a pick-up keeps the beats of its measure: the last two of four', () => {
    const p = played(music('4/4', 1, '60', frac(1, 2)))
    expect(p.onsets.map(o => [o.measure, o.beat, o.role])).toEqual([
      [0, 3, 'beat'],
      [0, 4, 'beat'],
      [1, 1, 'downbeat'],
      [1, 2, 'beat'],
      [1, 3, 'beat'],
      [1, 4, 'beat'],
    ])
  })
})

describe('subdivisions', () => {
  test('of 7/8 in quarters are its eighths: two, two and three to a group', () => {
    const p = played(music('7/8', 1, 'quarter=104'), { subdivide: 2 })
    expect(framesOf(p)).toEqual(atEighths([0, 1, 2, 3, 4, 5, 6], 208))
    expect(framesOf(p, 'sub')).toEqual(atEighths([1, 3, 5, 6], 208))
  })

  test('that do not run through unequal beats divide each beat alike: triplets in 2, eighths in 3', () => {
    const p = played(music('5/8', 1, 'quarter=60'), { subdivide: 3 })
    expect(framesOf(p)).toEqual(nearest([0, 1 / 3, 2 / 3, 1, 1.5, 2]))
  })

  test('are left out where only beats are wanted, also in 2+4 and 2+2+3', () => {
    expect(framesOf(played(music('2+4/8', 1, 'quarter=60')))).toEqual(nearest([0, 1]))
    expect(framesOf(played(music('7/8', 1, 'quarter=60')), 'sub')).toEqual([])
  })

  test('of 6/8 in dotted quarters are three to a beat', () => {
    const p = played(music('6/8', 1, 'dotted-quarter=80'), { subdivide: 3 })
    expect(framesOf(p, 'sub')).toEqual(nearest([0.25, 0.5, 1, 1.25]))
  })

  test('in a ramp slide with it', () => {
    const form: Form = {
      ...music('4/4', 1, '120'),
      marks: [
        { at: zero, tempo: tempoOf('120'), ramp: true },
        { at: frac(1), tempo: tempoOf('60') },
      ],
    }
    const gaps = framesOf(played(form, { subdivide: 4 })).flatMap((f, i, a) =>
      i ? [f - (a[i - 1] ?? 0)] : [],
    )
    expect(gaps).toEqual([...gaps].sort((a, b) => a - b))
    expect(gaps.length).toBe(15)
  })
})

describe('an altered rhythm', () => {
  const ratios = [
    [3, 1],
    [1, 3],
    [2, 1],
    [3, 1, 1, 1],
    [1, 1, 1, 3],
    [1, 2, 1],
    [5, 1, 1, 1, 1],
  ]

  test.each(ratios.map(r => [r.join(':'), r] as const))('%s keeps the exact length of each group', (_, r) => {
    const [group, total] = [frac(3, 8), r.reduce((a, b) => a + b, 0)]
    const p = played(music('6/8', 4, 'dotted-quarter=92'), { guide: { ratios: r, group } })
    const starts = r.map((_, i) => r.slice(0, i).reduce((a, b) => a + b, 0) / total)
    const expected = [0, 1, 2, 3, 4, 5, 6, 7].flatMap(g => starts.map(s => ((g + s) * 60) / 92))
    expect(framesOf(p, 'guide')).toEqual(nearest(expected))
    const beats = framesOf(p, 'downbeat', 'beat')
    expect(framesOf(p, 'guide').filter((_, i) => i % r.length === 0)).toEqual(beats)
  })

  test('in a pick-up begins inside its group', () => {
    const p = played(music('2/4', 1, '60', eighths(1)), {
      guide: { ratios: [1, 1, 1, 3], group: frac(1, 4) },
    })
    expect(framesOf(p, 'guide').slice(0, 3)).toEqual(nearest([0, 0.5, 0.5 + 1 / 6]))
  })
})

describe('a planned breath', () => {
  const form = (adds: Frac): Form => ({
    ...music('4/4', 2, '60'),
    breaths: [{ at: frac(1), kind: adds.n === 0 ? 'breath' : 'caesura', adds }],
  })

  test('takes no time of its own: the note before gives it', () => {
    const p = played(form(zero))
    expect(p.end).toBe(8 * RATE)
    expect(framesOf(p, 'breath')).toEqual([4 * RATE])
    expect(framesOf(p, 'downbeat')).toEqual(nearest([0, 4]))
  })

  test('that adds a beat is cued where the note before ends, and all that follows comes a beat later', () => {
    const p = played(form(frac(1, 4)))
    expect(p.end).toBe(9 * RATE)
    expect(framesOf(p, 'breath')).toEqual([4 * RATE])
    expect(framesOf(p, 'downbeat')).toEqual(nearest([0, 5]))
  })

  test('before the first note or after the last is not cued, and nothing waits for it at the start', () => {
    const breaths = [
      { at: zero, kind: 'caesura' as const, adds: frac(1, 4) },
      { at: frac(2), kind: 'breath' as const, adds: zero },
    ]
    const p = played({ ...music('4/4', 2, '60'), breaths })
    expect(framesOf(p, 'breath')).toEqual([])
    expect(p).toEqual(played(music('4/4', 2, '60')))
  })

  test('that adds a beat adds it at the tempo played, and twice for two of them', () => {
    const twice: Form = {
      ...music('4/4', 2, '60'),
      breaths: [
        { at: frac(1, 2), kind: 'caesura', adds: frac(1, 4) },
        { at: frac(1), kind: 'caesura', adds: frac(1, 4) },
      ],
    }
    expect(played(twice, {}, '120').end).toBe(5 * RATE)
  })
})

describe('the end of a repetition', () => {
  test('a verdict is taken from the last measure on, in one measure from its last beat on', () => {
    const long = played(music('3/4', 4, '60'), { countIn: 1 })
    expect([long.firstNote, long.verdictFrom, long.lastBeat, long.end].map(f => f / RATE)).toEqual([
      3, 12, 14, 15,
    ])
    const short = played(music('3/4', 1, '60'), { countIn: 1 })
    expect([short.firstNote, short.verdictFrom, short.lastBeat, short.end].map(f => f / RATE)).toEqual([
      3, 5, 5, 6,
    ])
  })

  test('the last beat is known also where the passage ends inside a measure', () => {
    const p = played({ ...music('4/4', 2, '60'), length: frac(7, 4) })
    expect(p.lastBeat).toBe(6 * RATE)
    expect(p.end).toBe(7 * RATE)
  })
})

const anyMeter = fc.constantFrom('2/4', '3/4', '4/4', '6/8', '5/8', '3+2/8', '7/8', '2/2', '9/8', '3/16')
const anyTempo = fc.record({
  bpm: fc.integer({ min: 20_000, max: 208_000 }),
  unit: fc.constantFrom('eighth', 'quarter', 'dotted-quarter', 'half'),
})
const tempoFrom = ({ bpm, unit }: { bpm: number; unit: string }): Tempo => tempoOf(`${unit}=${bpm / 1000}`)

const anyForm = fc
  .record({
    meters: fc.array(fc.record({ m: anyMeter, t: anyTempo, ramp: fc.boolean() }), {
      minLength: 1,
      maxLength: 4,
    }),
    pickupEighths: fc.nat(1),
    breaths: fc.array(fc.record({ where: fc.nat(40), adds: fc.nat(3) }), { maxLength: 3 }),
  })
  .map(({ meters, pickupEighths, breaths }): Form => {
    const pickup = eighths(pickupEighths)
    let at = pickup
    const bars = meters.map(({ m, t, ramp }) => {
      const here = { at, meter: meter(m), tempo: tempoFrom(t), ramp }
      at = add(at, times(measureLength(here.meter), 2))
      return here
    })
    const length = at
    return {
      meters: bars.map((b, i) => ({ at: i === 0 ? zero : b.at, meter: b.meter })),
      marks: bars.map((b, i) => ({
        at: i === 0 ? zero : b.at,
        tempo: b.tempo,
        ...(b.ramp ? { ramp: true as const } : {}),
      })),
      pickup,
      length,
      breaths: breaths
        .filter(b => b.where / 8 <= toNumber(length))
        .sort((a, b) => a.where - b.where)
        .map(b => ({ at: eighths(b.where), kind: 'fermata' as const, adds: eighths(b.adds) })),
    }
  })

const anyProgram = fc
  .record({
    form: anyForm,
    tempo: anyTempo,
    countIn: fc.nat(2),
    again: fc.boolean(),
    subdivide: fc.integer({ min: 1, max: 4 }),
    rest: fc.constantFrom(0, 0.37, 2),
    guide: fc.option(fc.constantFrom([3, 1], [1, 1, 1, 3], [2, 1]), { nil: undefined }),
  })
  .map(({ form, tempo, guide, ...o }) => ({
    form,
    tempo: tempoFrom(tempo),
    program: compile(form, tempoFrom(tempo), {
      ...o,
      rate: RATE,
      ...(guide ? { guide: { ratios: guide, group: frac(1, 4) } } : {}),
    }),
  }))

describe('in any program', () => {
  const holds = (law: (p: Program, form: Form, tempo: Tempo) => void) =>
    fc.assert(
      fc.property(anyProgram, ({ program, form, tempo }) => law(program, form, tempo)),
      { numRuns: 200 },
    )

  test('onsets come in order and lie within it, on whole frames', () =>
    holds(p => {
      p.onsets.forEach((o, i) => {
        expect(Number.isInteger(o.frame)).toBe(true)
        expect(o.frame).toBeGreaterThanOrEqual(p.onsets[i - 1]?.frame ?? 0)
        expect(o.frame).toBeLessThan(p.frames)
      })
    }))

  test('segments follow each other without a gap, from 0 to the first note, and the end is the end', () =>
    holds(p => {
      expect(p.segments[0]?.frame).toBe(0)
      expect(p.segments.at(-1)).toEqual({ kind: 'passage', frame: p.firstNote })
      const starts = p.segments.map(s => s.frame)
      expect(starts).toEqual([...new Set(starts)].sort((a, b) => a - b))
      expect(starts.every(Number.isInteger)).toBe(true)
      expect(p.end).toBe(p.frames)
      expect(p.firstNote).toBeLessThanOrEqual(p.lastBeat)
      expect(p.firstNote).toBeLessThanOrEqual(p.verdictFrom)
      expect(p.verdictFrom).toBeLessThanOrEqual(p.lastBeat)
      expect(p.lastBeat).toBeLessThan(p.end)
    }))

  test('a count-in, if there is one, has two clicks and 1.5 seconds', () =>
    holds(p => {
      const start = p.segments.find(s => s.kind === 'countIn')?.frame
      if (start === undefined) return
      expect(p.firstNote - start).toBeGreaterThanOrEqual(1.5 * RATE - 1)
      const clicks = p.onsets.filter(o => o.frame < p.firstNote && o.role !== 'sub')
      expect(clicks.length).toBeGreaterThanOrEqual(2)
    }))

  test('the passage lasts as long as its tempo map says', () =>
    holds((p, form, tempo) => {
      const frames = tempoMap(form, tempo, RATE).frames(form.length)
      expect(Math.abs(p.end - p.firstNote - frames)).toBeLessThanOrEqual(0.5)
    }))

  test('every measure has a downbeat', () =>
    holds((p, form) => {
      const downbeats = p.onsets.filter(o => o.role === 'downbeat').map(o => o.measure)
      expect(downbeats).toEqual(Array.from({ length: 2 * form.meters.length }, (_, i) => i + 1))
    }))
})
