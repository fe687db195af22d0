import { type Breath, type Form, measures } from './form.ts'
import { add, compare, div, equal, type Frac, less, min, mix, mulNear, sub, zero } from './fraction.ts'
import { measureLength } from './meter.ts'
import { inUnit, ratioOf, type Tempo } from './tempo.ts'

type Mark = Form['marks'][number]

/** The tempo between two marks, on the way from one to the other, in the note value of the first. */
const onTheWay = (from: Mark, to: Mark, at: Frac): Tempo => {
  const part = div(sub(at, from.at), sub(to.at, from.at))
  const { unit, bpm } = from.tempo
  return { unit, bpm: mix(bpm, inUnit(to.tempo, unit).bpm, part) }
}

/** The written tempo that runs at a position, and whether it is sliding there. */
const markAt = (f: Form, at: Frac): Mark => {
  const i = f.marks.findLastIndex(m => compare(m.at, at) <= 0)
  const [mark, next] = [f.marks[i], f.marks[i + 1]]
  if (!mark) throw new RangeError('a form needs a tempo mark at its start')
  if (!mark.ramp || !next) return { at, tempo: mark.tempo }
  return { at, tempo: equal(mark.at, at) ? mark.tempo : onTheWay(mark, next, at), ramp: true }
}

const marksBetween = (f: Form, from: Frac, to: Frac): readonly Mark[] => {
  const inside = f.marks.filter(m => less(from, m.at) && less(m.at, to))
  const last = f.marks.findLastIndex(m => less(m.at, to))
  const [mark, next] = [f.marks[last], f.marks[last + 1]]
  // A slide that is cut off still leads to where it was.
  const end =
    mark?.ramp && next ? [{ at: to, tempo: equal(next.at, to) ? next.tempo : onTheWay(mark, next, to) }] : []
  return [markAt(f, from), ...inside, ...end]
}

/**
 * The part of a form between two positions, exact. It begins with a pick-up when it starts inside a measure: what is
 * left of that measure. Tempos, meters and marks stay where they are in the music; a mark at the very end is left out,
 * except a fermata, which belongs to the last note. A slow breath is taken where it was when both are played in the
 * same ratio to what is written. Throws RangeError unless 0 <= from < to <= length.
 */
export const cutForm = (f: Form, from: Frac, to: Frac): Form => {
  if (less(from, zero) || !less(from, to) || less(f.length, to))
    throw new RangeError('a cut outside the form')
  if (equal(from, zero) && equal(to, f.length)) return f
  const bar = measures(f).findLast(m => compare(m.from, from) <= 0)
  if (!bar) throw new RangeError('a form needs a meter')
  const inside = equal(bar.barline, from) ? zero : sub(add(bar.barline, measureLength(bar.meter)), from)
  const moved = <T extends { readonly at: Frac }>(x: T): T => ({ ...x, at: sub(x.at, from) })
  const marks = marksBetween(f, from, to)
  const ratio = ratioOf((marks[0] as Mark).tempo, (f.marks[0] as Mark).tempo)
  const below = (b: Breath): Breath =>
    b.below ? { ...b, below: { unit: b.below.unit, bpm: mulNear(b.below.bpm, ratio) } } : b
  const kept = (b: Breath): boolean =>
    b.kind === 'fermata'
      ? less(from, b.at) && compare(b.at, to) <= 0
      : compare(from, b.at) <= 0 && less(b.at, to)
  // Of a note that is held only what is left of it.
  const held = (b: Breath): Breath => (b.note ? { ...b, note: min(b.note, sub(b.at, from)) } : b)
  return {
    ...(f.changesFrom ? { changesFrom: f.changesFrom } : {}),
    meters: [
      { at: zero, meter: bar.meter },
      ...f.meters.filter(m => less(from, m.at) && less(m.at, to)).map(moved),
    ],
    marks: marks.map(moved),
    pickup: inside,
    length: sub(to, from),
    ...(f.breaths ? { breaths: f.breaths.filter(kept).map(below).map(held).map(moved) } : {}),
    ...(f.counted ? { counted: f.counted } : {}),
  }
}
