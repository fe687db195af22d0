import * as z from 'zod'
import type { Frac } from '../music/fraction.ts'
import type { Letters } from '../music/place.ts'
import type { Result } from '../music/result.ts'
import { textUpTo } from './kinds.ts'

/** What reading an entry needs from outside: an id for a new section, and which rhythms have a name. */
export type Sources = {
  readonly newId: () => string
  readonly isRhythm: (name: string) => boolean
  /** The beat that is felt in the passage: what a plain number of beats a minute counts. Absent = quarters. */
  readonly felt?: Frac
}

/** One list of a passage: its entries in the file, as they are typed, in the form and as options. */
export type EntryKind<E> = {
  /** An entry in the file, and what the list is called where it is none; at most so many. */
  readonly schema: z.ZodType<E>
  readonly what: string
  readonly most: number
  /** What one of them is called. */
  readonly label: string
  /** What all of them are called. */
  readonly all: string
  readonly hint: string
  /** In the form it stands behind this field. */
  readonly behind: string
  /** Its option: "--change <measure=meter>", "--no-change <measure>", and what it says of itself. */
  readonly option: {
    readonly name: string
    readonly put: string
    readonly drop: string
    readonly says: string
  }
  /** Entries at one place, or of one name, are the same one; marks also differ by their kind. */
  readonly by: 'place' | 'name'
  readonly known: (e: E) => string
  readonly sort?: (e: E) => string
  /** What `read` reads: as the player types it, where that beat is felt. */
  readonly text: (e: E, felt?: Frac) => string
  /** The same in words. */
  /** `letters`: the rehearsal marks of its passage. */
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
