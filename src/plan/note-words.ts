import { fullDay } from '../music/day-words.ts'
import { type Letters, placeWords } from '../music/place.ts'
import { type Note, type NoteKind, noteDay } from '../repertoire/note.ts'
import { lettersOfPassage } from '../repertoire/passage-form.ts'
import type { Piece } from '../repertoire/piece.ts'
import { namesOf, nameText } from './practiced-names.ts'
import { keysOf } from './report-figures.ts'
import { PAIN_TEXT } from './words.ts'

/** What a note is about, in the player's words; empty where it is about no piece. */
export const aboutOf = (pieces: readonly Piece[]): ((n: Note) => string) => {
  const name = namesOf(pieces)
  return n => {
    if (n.key !== undefined) return nameText(name(n.key))
    return n.piece === undefined ? '' : (pieces.find(p => p.id === n.piece)?.title ?? '')
  }
}

/** The rehearsal marks of what a key stands for. */
type LettersOf = (key: string) => Letters | null
export const lettersIn =
  (pieces: readonly Piece[]): LettersOf =>
  key => {
    const passage = pieces.flatMap(p => p.passages).find(p => keysOf([p])(key))
    return passage ? lettersOfPassage(passage) : null
  }

const KIND = { note: '', tomorrow: 'for tomorrow', teacher: 'for the teacher', pain: 'pain' } as const

/** "for the teacher: where to breathe?"; "rhythm, m. 43, beat 2: too early". */
export const noteText = (n: Note, lettersOf: LettersOf): string => {
  const kind =
    n.kind === 'wrong'
      ? [
          n.what && `went wrong: ${n.what}`,
          n.place ? placeWords(n.place, n.key === undefined ? null : lettersOf(n.key)) : '',
        ]
          .filter(Boolean)
          .join(', ')
      : KIND[n.kind]
  return [kind, n.text].filter(Boolean).join(': ')
}

/** Notes by their days, oldest first; `ids` = with what names them to be taken back. */
export const notesLines = (
  notes: readonly Note[],
  today: string,
  about: (n: Note) => string,
  lettersOf: LettersOf,
  ids = false,
): readonly string[] =>
  notes.flatMap((n, i) => {
    const day = noteDay(n)
    const before = notes[i - 1]
    const of = about(n)
    return [
      ...(before && noteDay(before) === day ? [] : [fullDay(day, today)]),
      `  ${noteText(n, lettersOf)}${of === '' ? '' : ` (${of})`}${ids ? `   ${n.id}` : ''}`,
    ]
  })

/** What is said once a note is on disk. */
export const NOTED: Readonly<Record<NoteKind, string>> = {
  note: 'Noted.',
  tomorrow: 'Noted for tomorrow.',
  teacher: 'Noted for the teacher.',
  pain: `Noted. ${PAIN_TEXT}`,
  wrong: 'Noted.',
}
