import type { Visit } from '../ladder/history.ts'
import { decodeKey, type WarmedUp } from '../ladder/key.ts'
import { compare, frac, toNumber } from '../music/fraction.ts'
import { EXTENDED_MARKS } from '../music/scale.ts'
import { compareTempo, type Tempo } from '../music/tempo.ts'

export type Remembered = WarmedUp & { readonly time: string; readonly offset: number }

/** All that was played in warm-ups, the latest first. A visit in which no turn was heard to its end is no playing. */
export const warmedUp = (visits: readonly Visit[]): readonly Remembered[] =>
  visits
    .filter(v => v.played > 0)
    .flatMap(v => {
      const read = decodeKey(v.key)
      return read.kind === 'warm-up' ? [{ ...read, time: v.time, offset: v.offset }] : []
    })
    .sort((a, b) => (a.time < b.time ? 1 : -1))

/** The tempo at which an exercise was last begun in this key, else in any; null = it is new. */
export const lastTempo = (
  all: readonly Remembered[],
  w: Pick<WarmedUp, 'warmUp' | 'item' | 'key'>,
): Tempo | null => {
  const ours = all.filter(r => r.warmUp === w.warmUp && r.item === w.item)
  return (ours.find(r => r.key === w.key) ?? ours[0])?.tempo ?? null
}

/** So many marks of the traditional scale faster or slower, in the same note value; at its ends it stays. */
export const movedBy = (t: Tempo, marks: number): Tempo => {
  if (marks === 0) return t
  const next =
    marks > 0
      ? EXTENDED_MARKS.find(m => compare(frac(m), t.bpm) > 0)
      : EXTENDED_MARKS.findLast(m => compare(frac(m), t.bpm) < 0)
  return next === undefined ? t : movedBy({ unit: t.unit, bpm: frac(next) }, marks - Math.sign(marks))
}

/** How many marks lead from one tempo nearest to another. */
export const marksBetween = (from: Tempo, to: Tempo): number => {
  const by = Math.sign(compareTempo(to, from))
  let n = 0
  for (let at = from; Math.sign(compareTempo(to, at)) === by && by !== 0; n += by) {
    const next = movedBy(at, by)
    if (compareTempo(next, at) === 0) return n
    const past = Math.sign(compareTempo(to, next)) === -by
    if (past && toNumber(next.bpm) * toNumber(at.bpm) * by > toNumber(to.bpm) ** 2 * by) return n
    at = next
  }
  return n
}
