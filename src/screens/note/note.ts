import { printable } from '../../music/result.ts'
import { NOTE_LENGTH, type NoteAbout, type NoteBody } from '../../repertoire/note.ts'
import type { Row, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { editLine, type Line, type LineAction, lineOf, lineShown } from '../line.ts'
import { BOLD, indented, MARGIN, row, SOFT, topAndFoot } from '../page.ts'
import { inPhrases, inRows } from '../text-rows.ts'
import { asked, KEEPING, NOT_KEPT, noteKeys, type Written } from './words.ts'

/** What is known when a note is begun: what it is about, that in words, and the place where the music stopped. */
export type Subject = { readonly about: NoteAbout; readonly says: string; readonly place?: string }

export type OpenNote = Subject & {
  readonly as: Written
  readonly line: Line
  /** Being stored: nothing else is taken meanwhile. */
  readonly busy: boolean
  /** Why it could not be stored, or empty. */
  readonly refused: string
}

/** The note that is being written; what was said of the last one, until a key; null = neither. */
export type NoteState = OpenNote | { readonly said: string } | null

export type Action =
  | { readonly kind: 'open'; readonly subject: Subject; readonly as: Written }
  | { readonly kind: 'edit'; readonly edit: LineAction }
  | { readonly kind: 'another'; readonly by: 1 | -1 }
  | { readonly kind: 'keep' | 'leave' | 'heard' }
  | { readonly kind: 'kept' | 'refused'; readonly text: string }

type Step = { readonly state: NoteState; readonly keep?: NoteBody }

const KINDS = ['note', 'tomorrow', 'teacher', 'pain'] as const satisfies readonly Written[]

export const another = (as: Written, by: 1 | -1): Written =>
  KINDS[(KINDS.indexOf(as) + by + KINDS.length) % KINDS.length] ?? as

export const isOpen = (s: NoteState): s is OpenNote => s !== null && 'line' in s

/** The place that is known stands there already, and can be erased. */
const begun = (place: string | undefined): string => (place === undefined ? '' : `${place}: `)

const written = (s: OpenNote): string => {
  const text = printable(s.line.text).trim()
  return text === begun(s.place).trim() ? '' : text
}

/** A note's next state, and what is to be stored. A note without a word is left, unless its kind says enough. */
export const reduce = (s: NoteState, a: Action): Step => {
  if (a.kind === 'open')
    return {
      state: { ...a.subject, as: a.as, line: lineOf(begun(a.subject.place)), busy: false, refused: '' },
    }
  if (a.kind === 'kept') return { state: { said: a.text } }
  if (!isOpen(s)) return { state: a.kind === 'heard' ? null : s }
  if (a.kind === 'refused') return { state: { ...s, busy: false, refused: a.text } }
  if (s.busy) return { state: s }
  switch (a.kind) {
    case 'edit':
      return { state: { ...s, line: editLine(s.line, a.edit, NOTE_LENGTH), refused: '' } }
    case 'another':
      return { state: { ...s, as: another(s.as, a.by) } }
    case 'keep': {
      const text = written(s)
      if (text === '' && s.as !== 'pain') return { state: null }
      return { state: { ...s, busy: true, refused: '' }, keep: { kind: s.as, text, ...s.about } }
    }
    case 'leave':
      return { state: written(s) === '' ? null : { said: NOT_KEPT } }
    case 'heard':
      return { state: s }
  }
}

/** The last rows of the window: the note that is written, or what was said of it. */
export const noteRows = (s: NoteState, { cols }: Size): readonly Row[] => {
  if (s === null) return []
  const width = cols - 2 * MARGIN
  const bold = (text: string): readonly Row[] => indented(inRows(text, width), BOLD, MARGIN)
  if (!isOpen(s)) return bold(s.said)
  const [before, mark, after] = lineShown(s.line.text, s.line.cursor, width - 2)
  return [
    ...bold(asked(s.as, s.says)),
    row(`${' '.repeat(MARGIN + 2)}${before}${mark}${after}`),
    ...bold(s.refused),
    ...indented(inPhrases(s.busy ? KEEPING : noteKeys(another(s.as, 1)), width), SOFT, MARGIN),
  ]
}

/** The screen as it is, with a note over its last rows. */
export const withNote = (sheet: Sheet, s: NoteState, size: Size): Sheet => {
  const below = noteRows(s, size)
  return below.length === 0 ? sheet : topAndFoot(sheet, below, size.rows)
}
