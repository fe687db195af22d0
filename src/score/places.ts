import { compare, type Frac } from '../music/fraction.ts'
import type { Place } from './score.ts'

/** Index of the last entry at or before a place, -1 where there is none. The list is in order of place. */
export const lastAt = (list: readonly { readonly at: Frac }[], at: Frac): number => {
  let [low, high] = [0, list.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (compare(list[middle]?.at ?? at, at) <= 0) low = middle + 1
    else high = middle
  }
  return low - 1
}

/** Events by the index of their measure, in their order. */
export const byMeasure = <T extends Place>(events: readonly T[]): ReadonlyMap<number, readonly T[]> => {
  const out = new Map<number, T[]>()
  for (const e of events) {
    const list = out.get(e.measure)
    if (list) list.push(e)
    else out.set(e.measure, [e])
  }
  return out
}
