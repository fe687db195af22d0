import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { type Row, rowText, type Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { inRows } from '../home/layout.ts'
import { lineShown } from '../line.ts'
import { indented, inPhrases, MARGIN, row } from '../page.ts'
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
export const withNote = (view: Sheet | ReactElement, s: NoteState, size: Size): Sheet | ReactElement => {
  const below = noteRows(s, size)
  if (below.length === 0) return view
  const room = Math.max(0, size.rows - below.length)
  if (!('props' in view))
    return [...Array.from({ length: room }, (_, i) => view[i] ?? []), ...below].slice(0, size.rows)
  return (
    <Box flexDirection="column" height={size.rows}>
      <Box flexDirection="column" height={room} flexShrink={0} overflow="hidden">
        {view}
      </Box>
      {below.map((r, i) => (
        <Text key={i} wrap="truncate">
          {rowText(r)}
        </Text>
      ))}
    </Box>
  )
}
