import fc from 'fast-check'
import { BREATH_KINDS, type Breath, type Form, MAY_WAIT, measures } from '../../src/music/form.ts'
import { add, compare, equal, type Frac, frac, less, mul, times, zero } from '../../src/music/fraction.ts'
import { measureLength } from '../../src/music/meter.ts'
import type { Tempo } from '../../src/music/tempo.ts'
import { meter } from '../click/support.ts'

const METERS = ['4/4', '3/4', '2/2', '6/8', '5/8', '7/8', '3+2/8', '9/8', '2/4', '3/16'] as const
const UNITS = [frac(1, 4), frac(3, 8), frac(1, 8), frac(1, 2)] as const

const tempo: fc.Arbitrary<Tempo> = fc.record({
  unit: fc.constantFrom(...UNITS),
  bpm: fc.integer({ min: 20_000, max: 240_000 }).map(t => frac(t, 1000)),
})

/** A position as sixteenths and triplet eighths have it, by a share of the length. */
const onGrid = (length: Frac, share: number, triplet: boolean): Frac => {
  const step = triplet ? frac(1, 24) : frac(1, 16)
  const steps = Math.floor(((length.n / length.d) * share) / (step.n / step.d))
  return times(step, steps)
}

/** Not fc.double: nearly all of its numbers are next to 0. */
const placed = fc.record({ share: fc.nat(192).map(n => n / 192), triplet: fc.boolean() })

/**
 * Music as parts have it: meters that change, a pick-up, marks and ramps anywhere (the counted note value changes at bar
 * lines only), breaths and cues of every kind, an end inside a measure.
 */
export const anyForm: fc.Arbitrary<Form> = fc
  .record({
    bars: fc.array(fc.record({ m: fc.constantFrom(...METERS), count: fc.integer({ min: 1, max: 3 }) }), {
      minLength: 1,
      maxLength: 4,
    }),
    missing: fc.integer({ min: 0, max: 3 }),
    first: tempo,
    marks: fc.array(fc.record({ place: placed, tempo, ramp: fc.boolean(), atBar: fc.boolean() }), {
      maxLength: 5,
    }),
    ramp: fc.boolean(),
    breaths: fc.array(
      fc.record({
        place: placed,
        kind: fc.constantFrom(...BREATH_KINDS),
        eighths: fc.nat(3),
        below: tempo,
        waits: fc.boolean(),
      }),
      { maxLength: 5 },
    ),
    end: fc.oneof(fc.constant(1), fc.double({ min: 0.5, max: 1, noNaN: true })),
  })
  .map(({ bars, missing, first, marks, ramp, breaths, end }): Form => {
    const opening = meter((bars[0] as (typeof bars)[number]).m)
    const pickup = mul(measureLength(opening), frac(missing, 4))
    const meters: { at: Frac; meter: ReturnType<typeof meter> }[] = []
    let at = pickup
    for (const { m, count } of bars) {
      meters.push({ at: meters.length === 0 ? zero : at, meter: meter(m) })
      at = add(at, times(measureLength(meter(m)), count))
    }
    const shortened = onGrid(at, end, false)
    const length = end === 1 || !less(zero, shortened) ? at : shortened
    const kept = meters.filter(m => less(m.at, length))
    const frame = { meters: kept, marks: [{ at: zero, tempo: first }], pickup, length }
    const lines = measures(frame).map(m => m.from)
    const onLine = (a: Frac) => lines.findLast(l => compare(l, a) <= 0) ?? zero
    let unit = first.unit
    const sorted = marks
      .map(m => ({ ...m, at: onGrid(length, m.place.share, m.place.triplet) }))
      .map(m => (m.atBar ? { ...m, at: onLine(m.at) } : m))
      .filter(m => less(zero, m.at) && less(m.at, length))
      .sort((a, b) => compare(a.at, b.at))
      .filter((m, i, a) => i === 0 || !equal(m.at, (a[i - 1] as typeof m).at))
      .map(m => {
        if (m.atBar) unit = m.tempo.unit
        return { at: m.at, tempo: { unit, bpm: m.tempo.bpm }, ...(m.ramp ? { ramp: true as const } : {}) }
      })
    const all: Breath[] = breaths
      .map(b => ({
        at: onGrid(length, b.place.share, b.place.triplet),
        kind: b.kind,
        adds: frac(b.eighths, 8),
        ...(b.kind === 'slow-breath' ? { below: b.below } : {}),
        ...(b.waits && MAY_WAIT.includes(b.kind) ? { waits: true as const } : {}),
      }))
      .sort((a, b) => compare(a.at, b.at))
    return {
      ...frame,
      marks: [{ at: zero, tempo: first, ...(ramp ? { ramp: true as const } : {}) }, ...sorted],
      breaths: all,
    }
  })

/** A form and a part of it, from < to. */
export const formAndSpan: fc.Arbitrary<{ form: Form; from: Frac; to: Frac }> = fc
  .record({ form: anyForm, a: placed, b: placed })
  .map(({ form, a, b }) => {
    const [from, to] = [a, b].map(p => onGrid(form.length, p.share, p.triplet)).sort(compare) as [Frac, Frac]
    return less(from, to) ? { form, from, to } : { form, from: zero, to: form.length }
  })
