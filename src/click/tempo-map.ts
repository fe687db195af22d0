import { type Breath, breathsAt, type Form } from '../music/form.ts'
import { compare, type Frac, less, sub, toNumber, zero } from '../music/fraction.ts'
import { sameTempo, type Tempo } from '../music/tempo.ts'

/** Whole notes a minute, over/under, exact in whole numbers of any size: scaled tempos make fractions of many digits. */
type Pace = { readonly over: bigint; readonly under: bigint }

const pace = (t: Tempo): Pace => ({
  over: BigInt(t.unit.n) * BigInt(t.bpm.n),
  under: BigInt(t.unit.d) * BigInt(t.bpm.d),
})

const paceNumber = (p: Pace): number => Number(p.over) / Number(p.under)

/** One stretch between two tempo marks: exact at a steady tempo, by the logarithm in a ramp. */
type TempoLeg = {
  from: Frac
  start: number
  frames: (into: Frac) => number
  paceAt: (into: Frac) => Pace | number
}

const steady = (rate: number, w: Pace) => {
  const [over, under] = [BigInt(60 * rate) * w.under, w.over]
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
  const [played, as] = [pace(first), pace(written.tempo)]
  const scaled = (t: Tempo): Pace => {
    const { over, under } = pace(t)
    return { over: over * played.over * as.under, under: under * played.under * as.over }
  }
  const stretches: TempoLeg[] = []
  let start = 0
  form.marks.forEach((mark, i) => {
    const w0 = i === 0 ? played : scaled(mark.tempo)
    const next = form.marks[i + 1]
    const length = sub(next?.at ?? form.length, mark.at)
    const slides = mark.ramp && next && less(zero, length) && !sameTempo(mark.tempo, next.tempo)
    const [a, b] = [paceNumber(w0), paceNumber(slides ? scaled(next.tempo) : w0)]
    const frames = slides ? ramp(rate, a, b, length) : steady(rate, w0)
    const paceAt = (into: Frac) => (slides ? a + ((b - a) * toNumber(into)) / toNumber(length) : w0)
    stretches.push({ from: mark.at, start, frames, paceAt })
    start += frames(length)
  })
  const stretch = (holds: (from: Frac) => boolean): TempoLeg => {
    const found = stretches.findLast(s => holds(s.from)) ?? stretches[0]
    if (!found) throw new RangeError('a position before the first tempo mark')
    return found
  }
  const stretchAt = (at: Frac): TempoLeg => stretch(from => compare(from, at) <= 0)
  const inside = (s: TempoLeg, value: Frac, at: Frac): number => {
    const w = s.paceAt(sub(at, s.from))
    return typeof w === 'number' ? (60 * rate * toNumber(value)) / w : steady(rate, w)(value)
  }
  const lasting = (value: Frac, at: Frac): number => inside(stretchAt(at), value, at)
  /** A stop belongs to the note before it, also where a new tempo follows. */
  const held = ({ at, adds }: Breath): number =>
    inside(
      stretch(from => less(from, at)),
      adds,
      at,
    )
  const stops = breathsAt(form, first)
    .filter(b => less(zero, b.adds) && less(zero, b.at))
    .map(b => ({ at: b.at, frames: held(b) }))
  const reach = (passed: (stop: Frac, at: Frac) => boolean) => (at: Frac) => {
    const s = stretchAt(at)
    const waited = stops.reduce((sum, stop) => (passed(stop.at, at) ? sum + stop.frames : sum), 0)
    return s.start + s.frames(sub(at, s.from)) + waited
  }
  return { frames: reach((stop, at) => compare(stop, at) <= 0), until: reach(less), lasting }
}

/** Seconds of the whole form with its first mark at `first`. */
export const formSeconds = (form: Form, first: Tempo): number => tempoMap(form, first, 1).frames(form.length)
