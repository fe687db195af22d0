import { dayText, weekday } from '../music/day-words.ts'
import { type Note, noteDay } from '../repertoire/note.ts'
import type { Piece } from '../repertoire/piece.ts'
import { namesOf, nameText } from './practiced-names.ts'

/** What a note is about, in the player's words; empty where it is about no piece. */
export const aboutOf = (pieces: readonly Piece[]): ((n: Note) => string) => {
  const name = namesOf(pieces)
  return n => {
    if (n.key !== undefined) return nameText(name(n.key))
    return n.piece === undefined ? '' : (pieces.find(p => p.id === n.piece)?.title ?? '')
  }
}

const LENGTHS: Readonly<Record<string, string>> = {
  2: 'half',
  4: 'quarter',
  8: 'eighth',
  16: 'sixteenth',
  32: 'thirty-second',
}

/** "a half", "3 sixteenths"; what has no name of its own as a part of a whole note. */
const lengthText = (n: string, d: string): string => {
  const name = LENGTHS[d]
  if (name === undefined) return `${n}/${d} of a whole note`
  return n === '1' ? `${d === '8' ? 'an' : 'a'} ${name}` : `${n} ${name}s`
}

/** "43.2" as "m. 43, beat 2", "43(2)+3/16" as "m. 43, second time, 3 sixteenths after the bar line"; others as they stand. */
export const spotText = (place: string): string => {
  const m = /^(X?\d+[a-z]?)(?:\((\d+)\))?(?:\.(\d+)|\+(\d+)\/(\d+))?$/.exec(place)
  if (!m) return place
  const [, number, time, beat, n, d] = m
  return [
    `m. ${number}`,
    time === undefined ? '' : time === '2' ? 'second time' : `time ${time}`,
    beat === undefined ? '' : `beat ${beat}`,
    n === undefined || d === undefined ? '' : `${lengthText(n, d)} after the bar line`,
  ]
    .filter(Boolean)
    .join(', ')
}

const KIND = { note: '', tomorrow: 'for tomorrow', teacher: 'for the teacher', pain: 'pain' } as const

/** "for the teacher: where to breathe?"; "rhythm, m. 43, beat 2: too early". */
export const noteText = (n: Note): string => {
  const kind =
    n.k === 'wrong' ? [n.what, n.place ? spotText(n.place) : ''].filter(Boolean).join(', ') : KIND[n.k]
  return [kind, n.text].filter(Boolean).join(': ')
}

/** Notes by their days, oldest first; `ids` = with what names them to be taken back. */
export const notesLines = (
  notes: readonly Note[],
  today: string,
  about: (n: Note) => string,
  ids = false,
): readonly string[] =>
  notes.flatMap((n, i) => {
    const day = noteDay(n)
    const before = notes[i - 1]
    const of = about(n)
    return [
      ...(before && noteDay(before) === day ? [] : [`${weekday(day)} ${dayText(day, today)}`]),
      `  ${noteText(n)}${of === '' ? '' : ` (${of})`}${ids ? `   ${n.id}` : ''}`,
    ]
  })
