import * as z from 'zod'
import { daysBetween } from '../music/day.ts'
import { daysAway, fullDay, parseDay } from '../music/day-words.ts'
import { equal, type Frac } from '../music/fraction.ts'
import { noteValueName, parseLength, QUARTER } from '../music/note-value.ts'
import type { Letters } from '../music/place.ts'
import { ok, printable, problem, type Result } from '../music/result.ts'
import { parseTempo, spoken, typed } from '../music/tempo.ts'

/** What a text is read against: the local day ("2026-03-14"). */
export type Today = {
  readonly today: string
  /** The beat that is felt in its meter: what a plain number of beats a minute counts. Absent = quarters. */
  readonly felt?: Frac
}

/** How one kind of value stands in a file, how it is read from what is typed, and how it is said. */
export type ValueKind<V> = {
  readonly schema: z.ZodType<V>
  readonly read: (text: string, label: string, a: Today) => Result<V>
  /** What `read` reads. */
  readonly show: (value: V, felt?: Frac) => string
  /** What was understood, in words, where the text alone does not say it. */
  readonly says?: (value: V, a: Today) => string
}

/** A text of a file, without control characters; at most so many. */
export const textUpTo = (most: number): z.ZodType<string> => {
  const what = `text of 1 to ${most} characters`
  return z
    .string(what)
    .transform(s => printable(s).trim())
    .pipe(z.string().min(1, what).max(most, what))
}

/** A text that one of music's parsers takes. */
export const musicText = (parse: (s: string) => Result<unknown>): z.ZodType<string> =>
  z.string('text').superRefine((s, ctx) => {
    const read = parse(s)
    if (!read.ok)
      ctx.addIssue({ code: 'custom', message: read.problem.accepted, params: { read: read.problem } })
  })

export const words = (most: number): ValueKind<string> => ({
  schema: textUpTo(most),
  read: (text, label) =>
    text.length <= most
      ? ok(text)
      : problem(label, `${text.slice(0, 40)}...`, `text of at most ${most} characters`),
  show: text => text,
})

/** A text that a parser of music reads, kept as the program writes it. */
export const musical = <V>(
  parse: (s: string, field?: string) => Result<V>,
  show: (value: V) => string,
  says?: (value: V) => string,
): ValueKind<string> => ({
  schema: musicText(s => parse(s)),
  read: (text, label) => {
    const read = parse(text, label)
    return read.ok ? ok(show(read.value)) : read
  },
  show: text => text,
  ...(says && {
    says: text => {
      const read = parse(text)
      return read.ok ? says(read.value) : ''
    },
  }),
})

const quarters = musical(s => parseTempo(s), typed, spoken)
/** In a file a plain number is quarters; as it is typed and shown it is the beat that is felt. */
export const tempo: ValueKind<string> = {
  ...quarters,
  read: (text, label, { felt }) => {
    const read = parseTempo(text, label, felt)
    return read.ok ? ok(typed(read.value)) : read
  },
  show: (text, felt) => (felt && !equal(felt, QUARTER) && /^[\d.]+$/.test(text) ? `quarter=${text}` : text),
}
export const length = musical(parseLength, noteValueName, v => noteValueName(v).replaceAll('-', ' '))

export const day: ValueKind<string> = {
  schema: z.iso.date('a date like 2026-03-14'),
  read: (text, label, { today }) => parseDay(text, label, { from: today }),
  show: text => text,
  says: (text, { today }) => `${fullDay(text, today)}, ${daysAway(daysBetween(today, text))}`,
}

export const oneOf = <const W extends string>(all: readonly W[]): ValueKind<W> => {
  const names = all.join(', ').replace(/, ([^,]*)$/, ' or $1')
  return {
    schema: z.enum(all, names),
    read: (text, label) => {
      const found = all.find(w => w === text.toLowerCase())
      return found === undefined ? problem(label, text, names) : ok(found)
    },
    show: text => text,
  }
}

/** A whole number from 1 up; `of` = what is counted. */
export const whole = (most: number, of: string): ValueKind<number> => {
  const what = `a whole number of ${of} from 1 to ${most}`
  return {
    schema: z.int(what).min(1, what).max(most, what),
    read: (text, label) => {
      const n = /^\d{1,4}$/.test(text) ? Number(text) : 0
      return n >= 1 && n <= most ? ok(n) : problem(label, text, what)
    },
    show: String,
  }
}

/** Words with spaces or commas between them. */
export const wordList = (each: number, most: number): ValueKind<readonly string[]> => ({
  schema: z.array(textUpTo(each), 'a list of words').max(most, `at most ${most} of them`),
  read: text => ok(text.split(/[\s,]+/).filter(Boolean)),
  show: all => all.join(' '),
})

/** What reading an entry needs from outside: an id for a new section, and which rhythms have a name. */
export type Sources = {
  readonly newId: () => string
  readonly isRhythm: (name: string) => boolean
  /** The beat that is felt in the passage: what a plain number of beats a minute counts. Absent = quarters. */
  readonly felt?: Frac
}

/** One list of a passage: its entries in the file, as they are typed, in the form and as options. */
export type EntryKind<E> = {
  /** An entry in the file; at most so many. */
  readonly schema: z.ZodType<E>
  readonly most: number
  /** What one of them is called. */
  readonly label: string
  /** What all of them are called. */
  readonly all: string
  readonly hint: string
  /** In the form it stands behind this field. */
  readonly behind: string
  /** Its option: "--change <measure=meter>", "--no-change <measure>", and what it says of itself. */
  readonly option: readonly [name: string, put: string, drop: string, says: string]
  /** Entries at one place, or of one name, are the same one; marks also differ by their kind. */
  readonly by: 'place' | 'name'
  readonly known: (e: E) => string
  readonly sort?: (e: E) => string
  /** What `read` reads: as the player types it, where that beat is felt. */
  readonly text: (e: E, felt?: Frac) => string
  /** The same in words; `letters`: the rehearsal marks of its passage. */
  readonly says?: (e: E, letters?: Letters | null) => string
  /** `old` is the entry that it replaces. */
  readonly read: (s: string, field: string, from: Sources, old: E | undefined) => Result<E>
}

export const place = textUpTo(24)
export const yes = z.boolean('true or false')

/** "43=3/4" in two at its first =; null without one. */
export const parts = (s: string): readonly [string, string] | null => {
  const at = s.indexOf('=')
  return at < 0 ? null : [s.slice(0, at).trim(), s.slice(at + 1).trim()]
}
