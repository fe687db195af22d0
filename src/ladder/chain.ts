import { compare, type Frac, less } from '../music/fraction.ts'
import type { Span } from '../music/sections.ts'

/** Both neighbors at this share of their goals are ready to be joined. */
export const JOIN_READY = 0.85

/** Neighbors of a run that are played as one: from the first up to but not including the last, by place in the run. */
export type JoinedRun = { readonly from: number; readonly to: number }

const leadsOn = (a: Span, b: Span): boolean =>
  less(a.from, b.from) && compare(b.from, a.to) <= 0 && less(a.to, b.to)

const byStart = (spans: readonly Span[]): readonly number[] =>
  [...spans.keys()].sort((a, b) => compare(fromOf(spans, a), fromOf(spans, b)))
const fromOf = (spans: readonly Span[], i: number): Frac => (spans[i] as Span).from

/**
 * Sections as they follow one another in the music, by their place in the list: each begins where the one before ends, or
 * inside it, and leads on from there. Of several that do, the first in the list counts; the others stand apart, as a
 * small section does that was cut out of two.
 */
export const runsOf = (spans: readonly Span[]): readonly (readonly number[])[] => {
  const left = new Set(byStart(spans))
  const out: number[][] = []
  for (const first of left) {
    const run = [first]
    for (let at = first; ; ) {
      const next = [...left].sort((a, b) => a - b).find(i => leadsOn(spans[at] as Span, spans[i] as Span))
      if (next === undefined) break
      run.push(next)
      left.delete(next)
      at = next
    }
    out.push(run)
  }
  return out
}

/** Which stretch of a run these ids are; null where they are not neighbors, or not all of it. */
export const stretchOf = (ids: readonly string[], run: readonly string[]): JoinedRun | null => {
  const at = ids.map(id => run.indexOf(id))
  const [from, last] = [Math.min(...at), Math.max(...at)]
  return from >= 0 && last - from + 1 === new Set(at).size ? { from, to: last + 1 } : null
}

/** A run as it is practiced now: from its beginning on the longest stretches that are played as one, else single sections. */
export const chained = (count: number, joined: readonly JoinedRun[]): readonly JoinedRun[] => {
  const out: JoinedRun[] = []
  for (let from = 0; from < count; from = (out.at(-1) as JoinedRun).to) {
    const to = Math.max(from + 1, ...joined.filter(j => j.from === from && j.to <= count).map(j => j.to))
    out.push({ from, to })
  }
  return out
}

/** All neighbors that are both ready, from the beginning of the run on: the first of them is the next to be joined. */
export const pairs = <T>(blocks: readonly T[], ready: (b: T) => boolean): readonly (readonly [T, T])[] =>
  blocks.flatMap((b, i) => {
    const a = blocks[i - 1]
    return a !== undefined && ready(a) && ready(b) ? [[a, b] as const] : []
  })
