import type { NoteKind } from '../../repertoire/note.ts'
import { inOneBreath } from '../text-rows.ts'
import { joined } from '../words.ts'

/** What can be written on a screen; what went wrong after a slip has keys of its own. */
export type Written = Exclude<NoteKind, 'wrong'>

/** What is asked, by kind. */
const ASKS: Readonly<Record<Written, string>> = {
  note: 'Note',
  tomorrow: 'First thing next time',
  teacher: 'A question for the teacher',
  pain: 'Something hurts; words are optional',
}

/** How each kind is called on the way to it. */
const INSTEAD: Readonly<Record<Written, string>> = {
  note: 'just a note',
  tomorrow: 'for tomorrow',
  teacher: 'for the teacher',
  pain: 'pain',
}

/** "Note, Weir Street Overture, m. 41-44:" */
export const asked = (as: Written, about: string): string => `${joined([ASKS[as], about])}:`

/** What the keys do while a note is written. */
export const noteKeys = (next: Written): string => `Enter keeps it   Tab: ${INSTEAD[next]}   Escape leaves it`

/** Both, to be spoken. */
export const askedAloud = (as: Written, about: string, next: Written): string =>
  `${asked(as, about)} ${inOneBreath(noteKeys(next))}.`

export const NOT_KEPT = 'The note was not kept.'
export const KEEPING = 'Storing ...'

/** For the help of every screen. */
export const NOTE_HELP =
  "a note, right here; what sounds stops first, and a repetition that was being played doesn't count. Tab: for tomorrow, for the teacher, or pain"
