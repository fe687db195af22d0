import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { compile } from '../../src/click/compile.ts'
import { inLegs, withoutWaits } from '../../src/click/legs.ts'
import type { CompileOptions, Program } from '../../src/click/program.ts'
import { tempoMap } from '../../src/click/tempo-map.ts'
import { type Breath, type Form, waitsIn } from '../../src/music/form.ts'
import { compare, equal, type Frac, frac, mul, zero } from '../../src/music/fraction.ts'
import { anyForm } from '../music/any-form.ts'
import { framesOf, music, played, RATE, tempoOf } from './support.ts'

const PLAIN: CompileOptions = { countIn: 0, subdivide: 1, rate: RATE }

const wait = (at: Frac, more: Partial<Breath> = {}): Breath => ({
  at,
  kind: 'fermata',
  adds: frac(1, 4),
  waits: true,
  ...more,
})

const legs = (form: Form, o: Partial<CompileOptions> = {}, at?: string): readonly Program[] =>
  inLegs(form, at === undefined ? (form.marks[0]?.tempo as never) : tempoOf(at), { ...PLAIN, ...o })

/** Two measures of 4/4 at 60, held at these places. */
const held = (...at: readonly Frac[]): Form => ({ ...music('4/4', 2, '60'), breaths: at.map(a => wait(a)) })

const starts = (p: Program | undefined): number[] => (p ? framesOf(p).map(f => f / RATE) : [])

describe('a repetition that waits at a mark', () => {
  test('goes up to the end of the held note; nothing clicks after that', () => {
    const [first] = legs(held(frac(3, 4)))
    expect(starts(first)).toEqual([0, 1, 2])
    expect(first?.end).toBe(3 * RATE)
    expect(first?.lastBeat).toBe(2 * RATE)
  })

  test('goes on with one beat before the next note, counted as the beat that it is', () => {
    const [, second] = legs(held(frac(3, 4)))
    expect(starts(second)).toEqual([0, 1, 2, 3, 4, 5])
    expect(second?.firstNote).toBe(RATE)
    expect(second?.onsets[0]).toEqual({ frame: 0, role: 'countIn', measure: 1, beat: 3 })
    expect(second?.onsets[1]).toMatchObject({ role: 'beat', measure: 1, beat: 4 })
  })

  test('prepares in the tempo that follows', () => {
    const quick: Form = {
      ...held(frac(1)),
      marks: [
        { at: zero, tempo: tempoOf('60') },
        { at: frac(1), tempo: tempoOf('120') },
      ],
    }
    expect(legs(quick)[1]?.firstNote).toBe(RATE / 2)
    // The same ratio at another rung.
    expect(legs(quick, {}, '30')[1]?.firstNote).toBe(RATE)
  })

  test('prepares in the tempo of the place inside a ritardando', () => {
    const slowing: Form = {
      ...held(frac(1)),
      marks: [
        { at: zero, tempo: tempoOf('120'), ramp: true },
        { at: frac(2), tempo: tempoOf('60') },
      ],
    }
    // Half the way of an even ramp: 90.
    expect(legs(slowing)[1]?.firstNote).toBe(Math.round((60 / 90) * RATE))
  })

  test('a note inside a beat is prepared by the beat before and its own', () => {
    const [, second] = legs(held(frac(7, 8)))
    expect(second?.firstNote).toBe(1.5 * RATE)
    expect(starts(second).slice(0, 3)).toEqual([0, 1, 2])
    expect(second?.onsets.slice(0, 3).map(o => `${o.measure}.${o.beat} ${o.role}`)).toEqual([
      '1.3 countIn',
      '1.4 countIn',
      '2.1 downbeat',
    ])
  })

  test('where no beat came before, what prepares is a first beat counted in', () => {
    const [, second] = legs(held(frac(1, 8)))
    expect(second?.onsets.slice(0, 2).map(o => `${o.measure}.${o.beat} ${o.role}`)).toEqual([
      '-1.1 countIn',
      '1.1 countIn',
    ])
  })

  test('the beat is that of the meter as it is counted', () => {
    const six: Form = { ...music('6/8', 2, 'dotted-quarter=60'), breaths: [wait(frac(3, 8))] }
    expect(legs(six)[1]?.firstNote).toBe(RATE)
    expect(legs(six, { pulse: frac(1, 8) })[1]?.firstNote).toBe(RATE / 3)
    const uneven: Form = { ...music('2+2+3/8', 2, 'eighth=120'), breaths: [wait(frac(4, 8))] }
    expect(legs(uneven, { pulse: frac(1, 4) })[1]?.firstNote).toBe(1.5 * RATE)
  })

  test('the count-in of the beginning and the rest before it belong to the first leg alone', () => {
    const [first, second] = legs(held(frac(3, 4)), { countIn: 1, rest: 2 })
    expect(first?.segments.map(s => [s.kind, s.frame / RATE])).toEqual([
      ['rest', 0],
      ['countIn', 2],
      ['passage', 6],
    ])
    expect(second?.segments.map(s => [s.kind, s.frame / RATE])).toEqual([
      ['countIn', 0],
      ['passage', 1],
    ])
  })

  test('beats that do not click are there for the eye in the leg in which they stand', () => {
    const [first, second] = legs(held(frac(3, 4)), { only: { beats: [1] } })
    expect(first?.unheard?.map(b => b.beat)).toEqual([2, 3])
    expect(second?.unheard?.map(b => b.beat)).toEqual([4, 2, 3, 4])
    expect(framesOf(second as Program, 'countIn')).toEqual([0])
  })

  test('only the last leg takes a verdict, from the last measure on, at the earliest from its first note', () => {
    const [first, second, third] = legs(held(frac(3, 4), frac(3, 2)))
    expect(first?.verdictFrom).toBe(first?.end)
    expect(second?.verdictFrom).toBe(second?.end)
    expect(third?.verdictFrom).toBe(third?.firstNote)
    const [, last] = legs(held(frac(3, 4)))
    expect(last?.verdictFrom).toBe(2 * RATE)
    expect(last?.lastBeat).toBe(5 * RATE)
  })

  test('a breath that is written at the same place is not cued: the player breathes anyway', () => {
    const form = held(frac(3, 4))
    const both = { ...form, breaths: [...(form.breaths ?? []), wait(frac(3, 4), { kind: 'breath' })] }
    expect(legs(both).flatMap(p => framesOf(p, 'breath'))).toEqual([])
  })

  test('nothing waits before the first note or after the last one', () => {
    expect(legs(held(zero, frac(2)))).toHaveLength(1)
    expect(legs(held(zero, frac(2)))[0]).toEqual(played(held(zero, frac(2))))
  })

  test('two marks at one place wait once', () => {
    expect(legs(held(frac(1), frac(1)))).toHaveLength(2)
  })
})

/** Any music with one to four more marks that wait, anywhere. */
const waiting: fc.Arbitrary<Form> = fc
  .tuple(
    anyForm,
    fc.array(fc.record({ part: fc.integer({ min: 1, max: 23 }), eighths: fc.integer({ min: 1, max: 3 }) }), {
      minLength: 1,
      maxLength: 4,
      size: 'max',
    }),
  )
  .map(([form, more]) => ({
    ...form,
    breaths: [
      ...(form.breaths ?? []),
      ...more.map(m => wait(mul(form.length, frac(m.part, 24)), { adds: frac(m.eighths, 8) })),
    ].sort((a, b) => compare(a.at, b.at)),
  }))

const options: fc.Arbitrary<CompileOptions> = fc
  .record({
    countIn: fc.integer({ min: 0, max: 2 }),
    subdivide: fc.integer({ min: 1, max: 3 }),
    rest: fc.constantFrom(0, 1.3),
    free: fc.boolean(),
    beats: fc.option(fc.constant([1, 3]), { nil: undefined }),
    guide: fc.boolean(),
  })
  .map(({ free, beats, guide, ...o }) => ({
    ...o,
    rate: RATE,
    ...(free ? { freeRitardando: true as const } : {}),
    ...(beats ? { only: { beats } } : {}),
    ...(guide ? { guide: { ratios: [3, 1], group: frac(1, 4) } } : {}),
  }))

/** The legs laid end to end, without the beats that prepare them. */
const joined = (all: readonly Program[]): { onsets: Program['onsets']; unheard: unknown[]; end: number } => {
  let end = 0
  const onsets: Program['onsets'][number][] = []
  const unheard: unknown[] = []
  for (const [i, p] of all.entries()) {
    const from = i === 0 ? 0 : p.firstNote
    const later = end - from
    onsets.push(...p.onsets.filter(o => o.frame >= from).map(o => ({ ...o, frame: o.frame + later })))
    unheard.push(...(p.unheard ?? []).map(o => ({ ...o, frame: o.frame + later })))
    end += p.end - from
  }
  return { onsets, unheard, end }
}

describe('in any music', () => {
  it('the legs are the undivided program without the time of the waits, each from its own frame 0', () => {
    let [waited, twice, sliding] = [0, 0, 0]
    fc.assert(
      fc.property(fc.oneof(anyForm, waiting), options, (form, o) => {
        const tempo = form.marks[0]?.tempo as never
        const waits = waitsIn(form)
        const all = inLegs(form, tempo, o)
        const whole = compile(withoutWaits(form), tempo, o)
        if (waits.length > 0) waited++
        if (waits.length > 1) twice++
        if (waits.length > 0 && form.marks.some(m => m.ramp)) sliding++
        expect(all).toHaveLength(waits.length + 1)
        const { onsets, unheard, end } = joined(all)
        expect(onsets).toEqual(whole.onsets)
        expect(unheard).toEqual(whole.unheard ?? [])
        expect(end).toBe(whole.end)
        for (const p of all.slice(1)) {
          expect(p.onsets[0]).toMatchObject({ frame: 0, role: 'countIn' })
          expect(p.firstNote).toBeGreaterThan(0)
        }
        for (const p of all.slice(0, -1)) expect(p.verdictFrom).toBe(p.end)
        expect(all.at(-1)?.end).toBe(all.at(-1)?.frames)
      }),
    )
    expect(Math.min(waited, twice, sliding)).toBeGreaterThan(0)
  })

  it('that time is what the marks would have added: each note stands where it stood, less the stops before it', () => {
    let stopped = 0
    fc.assert(
      fc.property(waiting, form => {
        const tempo = form.marks[0]?.tempo as never
        const waits = waitsIn(form)
        // Marks of other kinds that stand where the music waits are left out of both.
        const alone: Form = {
          ...form,
          breaths: (form.breaths ?? []).filter(b => waits.includes(b) || !waits.some(w => equal(w.at, b.at))),
        }
        const written = compile(alone, tempo, PLAIN)
        const map = tempoMap(alone, tempo, RATE)
        const beats = (p: Pick<Program, 'onsets'>) => p.onsets.filter(x => x.beat > 0)
        const there = beats(written)
        const stops = waits.map(w => ({ frame: map.frames(w.at), adds: map.frames(w.at) - map.until(w.at) }))
        const legsNow = beats(joined(inLegs(alone, tempo, PLAIN)))
        expect(legsNow).toHaveLength(there.length)
        legsNow.forEach((x, i) => {
          const at = there[i]?.frame ?? 0
          const before = stops.filter(s => s.frame <= at + 0.5).reduce((sum, s) => sum + s.adds, 0)
          if (before > 0) stopped++
          expect(Math.abs(x.frame - (at - before))).toBeLessThanOrEqual(1)
        })
      }),
    )
    expect(stopped).toBeGreaterThan(0)
  })
})

test('music without a mark that waits is one leg: the program as it was', () => {
  const form = music('3/4', 3, '92', frac(1, 4))
  expect(legs(form, { countIn: 1 })).toEqual([played(form, { countIn: 1 })])
})
