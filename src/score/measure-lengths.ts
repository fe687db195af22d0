import { compare, equal, type Frac, frac, less, max, min, sub, wholeTimes, zero } from '../music/fraction.ts'
import type { Meter } from '../music/meter.ts'
import { nominal } from './meters.ts'
import type { Voice, WrittenMeasure } from './score.ts'

/** What a measure is taken to hold, and whether that is what its file says. */
export type Settled = { readonly length: Frac; readonly taken: 'as held' | 'at its meter' | 'rounded up' }

/** A small note: a measure that misses its meter by less was meant to fill it. */
const SMALL_NOTE = frac(1, 32)
/** What files lose by rounding to their divisions. */
const ROUNDING = frac(1, 256)

const near = (a: Frac, b: Frac, by: Frac = ROUNDING): boolean => less(less(a, b) ? sub(b, a) : sub(a, b), by)

/** Some voice goes from the bar line to this end without a gap: else voices only stand where they should not. */
const filled = (voices: readonly Voice[], length: Frac): boolean =>
  voices.some(v => equal(v.from, zero) && near(v.holds, length))

/** What a meter counts in, and at most how many. */
const UNITS = [1, 2, 4, 8, 16, 32, 64]
const MOST_UNITS = 64

/** The least length that a meter can be written for, from this one on. */
const writable = (length: Frac): Frac => {
  const counted = UNITS.some(d => {
    const n = wholeTimes(length, frac(1, d))
    return n !== null && n <= MOST_UNITS
  })
  if (counted) return length
  const fine = UNITS.findLast(d => compare(length, frac(MOST_UNITS, d)) <= 0) ?? 1
  return frac(Math.ceil((length.n * fine) / length.d), fine)
}

/**
 * The length of a measure. It is what the part holds, filled up to what others hold but not beyond its meter. One that
 * misses its meter by less than a small note is taken at its meter, and so is one that no voice fills to its end, or
 * that is longer against another voice that fills the meter. What really is longer or shorter stays so. A measure that
 * is `free` may be short as it likes: a pick-up, the last one, one in two halves.
 */
export const settled = (
  own: WrittenMeasure,
  others: readonly WrittenMeasure[],
  meter: Meter | null,
  free: boolean,
): Settled => {
  const whole = nominal(meter)
  const elsewhere = others.map(m => m.length).reduce(max, zero)
  const held = max(own.length, whole ? min(whole, elsewhere) : elsewhere)
  if (!whole) return rounded(held)
  if (equal(held, zero)) return { length: whole, taken: 'as held' }
  if (equal(held, whole)) return { length: held, taken: 'as held' }
  if (near(held, whole, SMALL_NOTE)) return { length: whole, taken: 'at its meter' }
  if (less(held, whole) && free) return rounded(held)
  const voices = [own, ...others].flatMap(m => m.voices)
  const sounding = voices.filter(v => v.sounds)
  const real = less(held, whole)
    ? filled(voices, held)
    : filled(sounding, held) && !sounding.some(v => near(v.holds, whole))
  return real ? rounded(held) : { length: whole, taken: 'at its meter' }
}

const rounded = (held: Frac): Settled => {
  const length = writable(held)
  return { length, taken: equal(length, held) ? 'as held' : 'rounded up' }
}
