import { compare, type Frac } from '../music/fraction.ts'
import type { Part, Place } from './score.ts'

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

/** "C", "C+4" (the fourth measure after C), "Letter C". */
const MARKED = /^(?:letter\s+)?(.+?)(?:\s*\+\s*(\d{1,3}))?$/i

const markNamed = (part: Part, text: string): number | null => {
  const [, mark = '', after = '0'] = MARKED.exec(text) ?? []
  const found = part.rehearsals.find(r => r.text.toLowerCase() === mark.trim().toLowerCase())
  const index = found ? found.measure + Number(after) : -1
  return part.measures[index]?.index ?? null
}

/** Index of the first measure that a player calls by this number ("12", "0", "X1") or mark ("C", "C+4"), else null. */
export const measureNamed = (part: Part, name: string): number | null => {
  const wanted = name.trim()
  const found =
    part.measures.find(m => m.number === wanted) ??
    part.measures.find(m => wanted !== '' && m.shown === wanted)
  return found?.index ?? markNamed(part, wanted)
}

/** The last measure of a stretch: up to a mark is up to the measure before it, as one says "from A to B". */
export const lastNamed = (part: Part, name: string): number | null => {
  const at = measureNamed(part, name)
  const wanted = name.trim()
  const byNumber = part.measures.some(m => m.number === wanted || (wanted !== '' && m.shown === wanted))
  return at !== null && !byNumber && at > 0 && !wanted.includes('+') ? at - 1 : at
}

/** What may be typed, for an error. */
export const measuresAndMarks = (part: Part): string => {
  const [a, b] = [part.measures[0]?.number ?? '', part.measures.at(-1)?.number ?? '']
  const marks = [...new Set(part.rehearsals.map(r => r.text))]
  const letters = marks.length > 0 ? `, or a rehearsal mark: ${marks.slice(0, 24).join(' ')}` : ''
  return `a measure from ${a} to ${b}${letters}`
}
