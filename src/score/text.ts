import { type Frac, frac } from '../music/fraction.ts'
import { ok, printable, problem, type Result } from '../music/result.ts'
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

const MARKS: readonly (readonly [readonly number[], string])[] = [
  [[0xef, 0xbb, 0xbf], 'utf-8'],
  [[0xff, 0xfe], 'utf-16le'],
  [[0xfe, 0xff], 'utf-16be'],
  // without a byte order mark: the "<" that every XML file begins with
  [[0x3c, 0x00], 'utf-16le'],
  [[0x00, 0x3c], 'utf-16be'],
]

/** Names that a declaration may give, and how such bytes are read. */
const NAMED: ReadonlyMap<string, string> = new Map([
  ['utf-8', 'utf-8'],
  ['utf8', 'utf-8'],
  ['us-ascii', 'utf-8'],
  ['ascii', 'utf-8'],
  // a file that says so but is plainly in bytes was saved again by another program
  ['utf-16', 'utf-8'],
  ['iso-8859-1', 'windows-1252'],
  ['latin1', 'windows-1252'],
  ['windows-1252', 'windows-1252'],
  ['iso-8859-15', 'iso-8859-15'],
])

/** Bytes of an XML file as text. What no encoding gives becomes U+FFFD; only an encoding we cannot read is refused. */
export const decodeXml = (bytes: Uint8Array, file: string): Result<string> => {
  const marked = MARKS.find(([mark]) => mark.every((b, i) => bytes[i] === b))?.[1]
  const head = String.fromCharCode(...bytes.subarray(0, 200))
  const declared = /^\s*<\?xml[^>]*\sencoding\s*=\s*["']([^"']*)["']/.exec(head)?.[1] ?? 'utf-8'
  const label = marked ?? NAMED.get(declared.toLowerCase())
  if (label === undefined)
    return problem(`${file}, encoding`, clean(declared), 'UTF-8, UTF-16, ISO-8859-1 or Windows-1252')
  return ok(new TextDecoder(label).decode(bytes))
}
