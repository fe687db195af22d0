import { add, compare, type Frac, sub, zero } from './fraction.ts'
import { type Meter, measureLength } from './meter.ts'
import type { Tempo } from './tempo.ts'

/**
 * The shape of the music that is clicked, in whole notes from its first note.
 * The first bar line stands at `pickup`; meters change at bar lines; `length` counts the pick-up too.
 */
export type Form = {
  readonly meters: readonly { readonly at: Frac; readonly meter: Meter }[]
  /** Written tempos; the first stands at 0. `ramp` slides evenly over the score to the next mark. */
  readonly marks: readonly { readonly at: Frac; readonly tempo: Tempo; readonly ramp?: true }[]
  readonly pickup: Frac
  readonly length: Frac
  /** Planned breaths; `adds` is time inserted there, as a note value at the tempo of that place (0 = none). */
  readonly breaths?: readonly { readonly at: Frac; readonly adds: Frac }[]
}

/** One measure of a form: number (0 = the pick-up), where it stands, and the bar line its pulses count from. */
export type Measure = {
  readonly number: number
  readonly from: Frac
  readonly to: Frac
  readonly meter: Meter
  /** Negative in a pick-up: where the whole measure would have begun. */
  readonly barline: Frac
}

export const meterAt = (f: Form, at: Frac): Meter => {
  const found = f.meters.findLast(m => compare(m.at, at) <= 0) ?? f.meters[0]
  if (!found) throw new RangeError('a form needs a meter')
  return found.meter
}

/** All measures of a form in order. The last one may be cut short by the form's end. */
export const measures = (f: Form): readonly Measure[] => {
  const out: Measure[] = []
  const first = meterAt(f, zero)
  if (compare(f.pickup, zero) > 0) {
    const to = compare(f.pickup, f.length) < 0 ? f.pickup : f.length
    out.push({ number: 0, from: zero, to, meter: first, barline: sub(f.pickup, measureLength(first)) })
  }
  for (let from = f.pickup, number = 1; compare(from, f.length) < 0; number++) {
    const meter = meterAt(f, from)
    const end = add(from, measureLength(meter))
    out.push({ number, from, to: compare(end, f.length) < 0 ? end : f.length, meter, barline: from })
    from = end
  }
  return out
}

/** The usual form: some measures of one meter at one tempo, perhaps with a pick-up. */
export const plainForm = (meter: Meter, count: number, tempo: Tempo, pickup: Frac = zero): Form => {
  let length = pickup
  for (let i = 0; i < count; i++) length = add(length, measureLength(meter))
  return { meters: [{ at: zero, meter }], marks: [{ at: zero, tempo }], pickup, length }
}
