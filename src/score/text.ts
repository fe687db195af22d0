import { type Frac, frac } from '../music/fraction.ts'
import { printable } from '../music/result.ts'
import { MAX_TEXT, MAX_WARNINGS } from './limits.ts'

/** What nearly all texts of a score are: short, in one word. */
const PLAIN = /^[!-~]{0,40}$/

/** Text of a file for people: no control characters, single spaces, at most 200 characters. */
export const clean = (s: string): string => {
  if (PLAIN.test(s)) return s
  const one = printable(s.slice(0, 4 * MAX_TEXT))
    .replace(/\s+/g, ' ')
    .trim()
  return one.length > MAX_TEXT ? `${one.slice(0, MAX_TEXT - 1)}…` : one
}

/** A decimal number of a file ("4", "-2", "1.5") as an exact fraction, else null. */
export const exact = (s: string): Frac | null => {
  const m = /^([+-]?)(\d{1,9})(?:\.(\d{0,6}))?$/.exec(s.trim())
  if (!m?.[2]) return null
  const decimals = m[3] ?? ''
  return frac(Number(m[1] + m[2] + decimals), 10 ** decimals.length)
}

/** So many measures are named in one remark. */
const MOST_NAMED = 12

/** "3, 8, 12": some measures by their numbers, each once. */
export const someNumbers = (numbers: readonly string[]): string => {
  const all = [...new Set(numbers)]
  return `${all.slice(0, MOST_NAMED).join(', ')}${all.length > MOST_NAMED ? ' and more' : ''}`
}

/** Remarks on one file, each kept once; past the fiftieth they are only counted. */
export type Remarks = { readonly add: (text: string) => void; readonly all: () => readonly string[] }

export const remarks = (): Remarks => {
  const kept = new Set<string>()
  let more = 0
  return {
    add: text => {
      if (kept.size < MAX_WARNINGS || kept.has(text)) kept.add(text)
      else more++
    },
    all: () => (more > 0 ? [...kept, `and ${more} more remarks of this kind`] : [...kept]),
  }
}
