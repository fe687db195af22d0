import type { Row, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { lineShown } from '../line.ts'
import { indented, MARGIN, row, topAndFoot } from '../page.ts'
import { inPhrases, inRows } from '../text-rows.ts'
import { another, isOpen, type NoteState } from './reduce.ts'
import { asked, KEEPING, noteKeys } from './words.ts'

/** The last rows of the window: the note that is written, or what was said of it. */
export const noteRows = (s: NoteState, { cols }: Size): readonly Row[] => {
  if (s === null) return []
  const width = cols - 2 * MARGIN
  const bold = (text: string): readonly Row[] => indented(inRows(text, width), { bold: true }, MARGIN)
  if (!isOpen(s)) return bold(s.said)
  const [before, mark, after] = lineShown(s.line.text, s.line.cursor, width - 2)
  return [
    ...bold(asked(s.as, s.says)),
    row(`${' '.repeat(MARGIN + 2)}${before}${mark}${after}`),
    ...bold(s.refused),
    ...indented(inPhrases(s.busy ? KEEPING : noteKeys(another(s.as, 1)), width), { color: 'soft' }, MARGIN),
  ]
}

/** The screen as it is, with a note over its last rows. */
export const withNote = (sheet: Sheet, s: NoteState, size: Size): Sheet => {
  const below = noteRows(s, size)
  return below.length === 0 ? sheet : topAndFoot(sheet, below, size.rows)
}
