import type { Form } from '../music/form.ts'
import { compare, div, type Frac, less, mul, sub, toNumber, zero } from '../music/fraction.ts'
import { quarters, type Tempo } from '../music/tempo.ts'

/** Whole notes a minute, exact. */
const pace = (t: Tempo): Frac => mul(t.unit, t.bpm)

/** One stretch between two tempo marks: exact at a steady tempo, by the logarithm in a ramp. */
type Stretch = {
  from: Frac
  start: number
  frames: (into: Frac) => number
  paceAt: (into: Frac) => Frac | number
}

/** In whole numbers of any size: scaled tempos make fractions too fine to be reduced into safe integers. */
const steady = (rate: number, w: Frac) => {
  const [over, under] = [BigInt(60 * rate) * BigInt(w.d), BigInt(w.n)]
  return (into: Frac): number => {
    const [a, b] = [BigInt(into.n) * over, BigInt(into.d) * under]
    return Number(a / b) + Number(a % b) / Number(b)
  }
}

/** Linear in tempo over the score: t = 60 L/(W1-W0) ln(W/W0), with W in whole notes a minute over a length L. */
const ramp = (rate: number, w0: number, w1: number, length: Frac) => {
  const l = toNumber(length)
  return (into: Frac) => ((60 * rate * l) / (w1 - w0)) * Math.log1p(((w1 - w0) * toNumber(into)) / (l * w0))
}

export type TempoMap = {
  /** Frames from the first note to the note at a position, not yet rounded, with the time of every stop on the way. */
  readonly frames: (at: Frac) => number
  /** The same to the end of the note before: a stop that stands there has not begun. */
  readonly until: (at: Frac) => number
  /** Frames of a note value at the tempo of a position. */
  readonly lasting: (value: Frac, at: Frac) => number
}

/**
 * Where each position of a form falls, with its first mark played at `first` and all others in the same ratio.
 * `rate` in frames a second.
 */
export const tempoMap = (form: Form, first: Tempo, rate: number): TempoMap => {
  const written = form.marks[0]
  if (!written) throw new RangeError('a form needs a tempo mark at its start')
  const ratio = div(quarters(first), quarters(written.tempo))
  const stretches: Stretch[] = []
  let start = 0
  form.marks.forEach((mark, i) => {
    const w0 = i === 0 ? pace(first) : mul(pace(mark.tempo), ratio)
    const next = form.marks[i + 1]
    const length = sub(next?.at ?? form.length, mark.at)
    const w1 = next && mark.ramp ? mul(pace(next.tempo), ratio) : w0
    const slides = compare(w0, w1) !== 0
    const [a, b] = [toNumber(w0), toNumber(w1)]
    const frames = slides ? ramp(rate, a, b, length) : steady(rate, w0)
    const paceAt = (into: Frac) => (slides ? a + ((b - a) * toNumber(into)) / toNumber(length) : w0)
    stretches.push({ from: mark.at, start, frames, paceAt })
    start += frames(length)
  })
  const stretchAt = (at: Frac): Stretch => {
    const found = stretches.findLast(s => compare(s.from, at) <= 0) ?? stretches[0]
    if (!found) throw new RangeError('a position before the first tempo mark')
    return found
  }
  const lasting = (value: Frac, at: Frac): number => {
    const s = stretchAt(at)
    const w = s.paceAt(sub(at, s.from))
    return typeof w === 'number' ? (60 * rate * toNumber(value)) / w : steady(rate, w)(value)
  }
  const stops = (form.breaths ?? [])
    .filter(b => compare(b.adds, zero) > 0 && compare(b.at, zero) > 0)
    .map(b => ({ at: b.at, frames: lasting(b.adds, b.at) }))
  const reach = (passed: (stop: Frac, at: Frac) => boolean) => (at: Frac) => {
    const s = stretchAt(at)
    const waited = stops.reduce((sum, stop) => (passed(stop.at, at) ? sum + stop.frames : sum), 0)
    return s.start + s.frames(sub(at, s.from)) + waited
  }
  return { frames: reach((stop, at) => compare(stop, at) <= 0), until: reach(less), lasting }
}

/** Seconds of the whole form with its first mark at `first`. */
export const formSeconds = (form: Form, first: Tempo): number => tempoMap(form, first, 1).frames(form.length)
