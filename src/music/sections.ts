import { type Form, type Measure, measures, unitAt } from './form.ts'
import { add, compare, div, equal, type Frac, frac, less, max, min, sub, zero } from './fraction.ts'
import { groupStarts, measureLength, pulses } from './meter.ts'

/** A stretch of a form, in whole notes from its first note. */
export type Span = { readonly from: Frac; readonly to: Frac }

/** Where a form is cut into sections. `points` are chosen positions. */
export type By =
  | { readonly kind: 'measure' | 'half' | 'beat' }
  | { readonly kind: 'points'; readonly at: readonly Frac[] }

/** The beats of a whole measure and their lengths, as the tempo counts them; also those that a pick-up leaves out. */
const beatsOf = (f: Form, m: Measure): readonly Span[] => {
  const all = pulses(m.meter, unitAt(f, m.from)).map(p => add(m.barline, p.at))
  const end = add(m.barline, measureLength(m.meter))
  return all.map((from, i) => ({ from, to: all[i + 1] ?? end }))
}

const beats = (f: Form): readonly Span[] => measures(f).flatMap(m => beatsOf(f, m))

/** The meter's beat nearest to the middle of each measure, the later of two; the bar line in a measure of one beat. */
const middles = (f: Form): readonly Frac[] =>
  measures(f).map(m => {
    const middle = div(measureLength(m.meter), frac(2))
    const away = (at: Frac): Frac => max(sub(at, middle), sub(middle, at))
    const starts = groupStarts(m.meter)
    return add(
      m.barline,
      starts.reduce((best, at) => (compare(away(at), away(best)) <= 0 ? at : best), zero),
    )
  })

/** Every bar line, middle or beat, also before a pick-up. */
const lattice = (f: Form, by: 'measure' | 'half' | 'beat'): readonly Frac[] => {
  const bars = measures(f).map(m => m.barline)
  if (by === 'measure') return bars
  return by === 'beat' ? beats(f).map(b => b.from) : [...bars, ...middles(f)]
}

const inOrder = (all: readonly Frac[]): readonly Frac[] =>
  [...all].sort(compare).filter((at, i, a) => i === 0 || !equal(at, a[i - 1] as Frac))

/** Where sections begin. What a pick-up has of a measure, half or beat belongs to the next one. */
const starts = (f: Form, by: By): readonly Frac[] => {
  const all = inOrder(by.kind === 'points' ? by.at : lattice(f, by.kind))
  const later = all.filter(at => less(zero, at) && less(at, f.length))
  const whole = by.kind === 'points' || all.some(at => equal(at, zero))
  return [zero, ...(whole ? later : later.slice(1))]
}

/** Length of the beat in which a position stands, as the tempo there is counted. */
export const beatAt = (f: Form, at: Frac): Frac => {
  const m = measures(f).findLast(x => compare(x.from, at) <= 0)
  const beat = m && beatsOf(f, m).findLast(b => compare(b.from, at) <= 0)
  return beat ? sub(beat.to, beat.from) : zero
}

/**
 * A form cut into sections. Each goes on over the first note of the next one, so that the seam is played too: `over` is
 * that note's length, a beat where none is given.
 */
export const sections = (f: Form, by: By, over?: Frac): readonly Span[] => {
  const from = starts(f, by)
  return from.map((start, i) => {
    const next = from[i + 1]
    return { from: start, to: next ? min(f.length, add(next, over ?? beatAt(f, next))) : f.length }
  })
}

/** The seam of two neighbors: the last beat or measure of the first with the first one of the second. */
export const seam = (f: Form, a: Span, b: Span, by: 'beat' | 'measure'): Span => {
  const units = by === 'beat' ? beats(f) : measures(f)
  const before = units.findLast(u => less(u.from, b.from))
  const after = units.findLast(u => compare(u.from, b.from) <= 0)
  return { from: max(a.from, before?.from ?? zero), to: min(b.to, after?.to ?? f.length) }
}

/** Two neighbors as one. */
export const joined = (a: Span, b: Span): Span => ({ from: min(a.from, b.from), to: max(a.to, b.to) })
