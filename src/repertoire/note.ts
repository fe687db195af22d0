import { localDay } from '../music/day.ts'

/** `tomorrow` = what comes first next time; `teacher` = a question; `wrong` = what went wrong in the music. */
const NOTE_KINDS = ['note', 'tomorrow', 'teacher', 'pain', 'wrong'] as const
export type NoteKind = (typeof NOTE_KINDS)[number]

export const WRONGS = ['notes', 'rhythm', 'breath', 'bow', 'sound'] as const
export type Wrong = (typeof WRONGS)[number]

/** Longest text of a note, in characters. */
export const NOTE_LENGTH = 400

/** What a note is about: the id of a piece; the key of what was played (see ladder/key.ts). Neither = no piece. */
export type NoteAbout = { readonly piece?: string; readonly key?: string }

/** What a note says. A text may be empty where the kind says enough: pain, or what went wrong. */
export type NoteBody = { readonly text: string } & NoteAbout &
  (
    | { readonly kind: Exclude<NoteKind, 'wrong'> }
    /** `place` = measure and beat as in a verdict: "43.2". */
    | { readonly kind: 'wrong'; readonly what: Wrong; readonly place?: string }
  )

/** `time` is ISO UTC; `offset` minutes east of UTC. */
export type Note = NoteBody & { readonly id: string; readonly time: string; readonly offset: number }

/** The local day ("2026-03-14") on which a note was written; days are cut at 4:00. */
export const noteDay = (n: Pick<Note, 'time' | 'offset'>): string => localDay(n.time, n.offset)

/** Whether the player noted pain on this day: then nothing invites to go on practicing. */
export const painToday = (notes: readonly Note[], day: string): boolean =>
  notes.some(n => n.kind === 'pain' && noteDay(n) === day)

/** What the player wanted to begin with: the `tomorrow` notes of the last day before this one that has any. */
export const firstThing = (notes: readonly Note[], day: string): readonly Note[] => {
  const before = notes.filter(n => n.kind === 'tomorrow' && noteDay(n) < day)
  const last = before.map(noteDay).sort().at(-1)
  return before.filter(n => noteDay(n) === last)
}
