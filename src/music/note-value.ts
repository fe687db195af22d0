import { compare, equal, type Frac, frac, less, mul, parseFraction, zero } from './fraction.ts'
import { ok, problem, type Result } from './result.ts'

/** The values that a tempo can count, by name. */
export const PLAIN_VALUES: readonly (readonly [string, Frac])[] = [
  ['breve', frac(2)],
  ['whole', frac(1)],
  ['half', frac(1, 2)],
  ['quarter', frac(1, 4)],
  ['eighth', frac(1, 8)],
  ['16th', frac(1, 16)],
  ['32nd', frac(1, 32)],
  ['64th', frac(1, 64)],
]
const DOTS: readonly (readonly [string, Frac])[] = [
  ['', frac(1)],
  ['dotted-', frac(3, 2)],
  ['double-dotted-', frac(7, 4)],
]
const ALIASES: Readonly<Record<string, string>> = {
  sixteenth: '16th',
  'thirty-second': '32nd',
  'sixty-fourth': '64th',
}

const ALL = DOTS.flatMap(([dots, k]) => PLAIN_VALUES.map(([name, v]) => [dots + name, mul(v, k)] as const))

const ACCEPTED = 'breve, whole, half, quarter, eighth, 16th, 32nd or 64th, also dotted- or double-dotted-'

/** Notes as they are printed (Unicode, Miscellaneous Symbols and Musical Symbols): each with its name. */
const PRINTED: Readonly<Record<string, string>> = {
  '\u2669': 'quarter',
  '\u266a': 'eighth',
  '\u{1d15d}': 'whole',
  '\u{1d157}\u{1d165}': 'half',
  '\u{1d15e}': 'half',
  '\u{1d158}\u{1d165}': 'quarter',
  '\u{1d15f}': 'quarter',
  '\u{1d158}\u{1d165}\u{1d16e}': 'eighth',
  '\u{1d160}': 'eighth',
  '\u{1d161}': '16th',
}
/** A printed note with its dots (a period, or the dot of augmentation). */
const printedNote = (s: string): string | null => {
  const [, note = '', dots = ''] = /^(.*?)\s*([.\u{1d16d}]*)$/su.exec(s.trim()) ?? []
  const name = PRINTED[note]
  const before = ['', 'dotted-', 'double-dotted-'][[...dots].length]
  return name === undefined || before === undefined ? null : before + name
}

/** "quarter", "dotted-quarter", "double-dotted half" or a printed note ("♩.") as a fraction of a whole note. */
export const parseNoteValue = (s: string, field = 'note value'): Result<Frac> => {
  const words = (printedNote(s) ?? s)
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, '-')
  const name = words.replace(/(sixteenth|thirty-second|sixty-fourth)$/, w => ALIASES[w] ?? w)
  const found = ALL.find(([n]) => n === name)
  return found ? ok(found[1]) : problem(field, s, ACCEPTED)
}

/** The name of a note value ("dotted-quarter"), or its fraction ("5/8") where it has no name. */
export const noteValueName = (v: Frac): string => ALL.find(([, f]) => equal(f, v))?.[0] ?? `${v.n}/${v.d}`

/** Several of a note value by its name: "dotted halves". */
export const several = (name: string): string => `${name.replaceAll('-', ' ').replace(/half$/, 'halve')}s`

/** A length: the name of a note value, or the fraction of a whole note that `noteValueName` writes where there is no name. */
export const parseLength = (s: string, field = 'length'): Result<Frac> => {
  const named = parseNoteValue(s, field)
  if (named.ok) return named
  const exact = parseFraction(s)
  return exact && less(zero, exact) ? ok(exact) : problem(field, s, `${ACCEPTED}, or a fraction like 5/16`)
}

export const QUARTER = frac(1, 4)

/** Longest first: the named note values, for pickers. */
export const NOTE_VALUES: readonly Frac[] = ALL.map(([, v]) => v).sort((a, b) => compare(b, a))
