import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { keyLabel } from '../../terminal/key-label.ts'
import { type Controls, keyHints } from '../../terminal/key-table.ts'
import type { Size } from '../../terminal/screen-writer.ts'
import { theme } from '../../terminal/theme.ts'
import { inRows, kindOf, widthOf } from '../home/layout.ts'
import { Bar, Note } from '../home/parts.tsx'
import { lineShown } from '../line.ts'
import { TOO_SMALL } from '../sizes.ts'
import { IMPORT_KEYS } from './key-table.ts'
import { type ImportRow, isText, openOf, rowsOf, type State } from './state.ts'
import { asksGoal, BUSY, choicesIn, LABELS, standsIn, TITLE, underLine } from './words.ts'

export type Shown = { readonly state: State; readonly size: Size; readonly controls: Controls }

const LABEL = 11
const BAR = 3

const Line = ({ state: s, row, width }: { state: State; row: ImportRow; width: number }): ReactElement => {
  const on = row === s.row
  const room = width - BAR - LABEL - 1
  const { all, at } = choicesIn(s, row)
  const count = all.length > 3 ? `   ${at + 1} of ${all.length}` : ''
  const [before, mark, after] = isText(row)
    ? lineShown(s.texts[row].text, on ? s.texts[row].cursor : null, room)
    : lineShown(standsIn(s, row), null, room - count.length)
  return (
    <Box height={1} flexShrink={0}>
      <Bar on={on} />
      <Box width={LABEL} flexShrink={0}>
        <Text color={theme.soft}>{LABELS[row]}</Text>
      </Box>
      <Text wrap="truncate" bold={on}>
        {before}
        <Text color={theme.mark}>{mark}</Text>
        {after}
        <Text color={theme.soft} bold={false}>
          {on ? count : ''}
        </Text>
      </Text>
    </Box>
  )
}

/** What the pedals and Enter do, and the other keys. */
const hintsOf = ({ state: s, controls: c }: Shown): readonly [string, string] => {
  const does = s.offer ? 'import it' : 'read it'
  const next = openOf(s) === 'choice' && c.pedals === 2 ? `   left (${keyLabel(c.left)}): next choice` : ''
  return [
    `right (${keyLabel(c.right)}) or Enter: ${does}${next}`,
    keyHints(IMPORT_KEYS, openOf(s), c.choice).join('   '),
  ]
}

/** As many lines as fit, the one in hand among them. */
const linesThatFit = (s: State, most: number): readonly ImportRow[] => {
  const all = rowsOf(s)
  const from = Math.max(0, Math.min(all.indexOf(s.row) - most + 1, all.length - most))
  return all.slice(from, from + Math.max(1, most))
}

/** One screen: what stands is taken with one press. */
export const ImportView = (p: Shown): ReactElement => {
  const { state: s, size } = p
  if (kindOf(size) === 'none') return <Text wrap="wrap">{TOO_SMALL}</Text>
  const narrow = kindOf(size) === 'small'
  const width = widthOf(size)
  const margin = narrow ? '' : '   '
  const below = (text: string, most: number) =>
    inRows(text, width - 2 * margin.length - 1)
      .slice(0, most)
      .map((row, i) => (
        <Text key={i} color={theme.soft} wrap="truncate">
          {margin + row}
        </Text>
      ))
  const hints = hintsOf(p).flatMap(row => (narrow ? inRows(row, width) : [row]))
  const note = s.busy ? BUSY[s.offer ? 'part' : 'file'] : s.note
  const under = below(underLine(s), narrow ? 2 : 5)
  const notes = [asksGoal(s), note].filter(text => text !== '').length
  const room = size.rows - (narrow ? 1 : 4) - hints.length - under.length - notes
  return (
    <Box
      flexDirection="column"
      width={width}
      height={size.rows}
      paddingTop={narrow ? 0 : 1}
      marginLeft={Math.floor((size.cols - width) / 2)}
    >
      <Text bold wrap="truncate">{`${margin}${s.offer ? `${TITLE}: ${s.offer.title}` : TITLE}`}</Text>
      {narrow ? null : <Text> </Text>}
      {linesThatFit(s, room).map(row => (
        <Line key={row} state={s} row={row} width={width} />
      ))}
      {narrow ? null : <Text> </Text>}
      {under}
      <Box flexGrow={1} />
      <Note text={asksGoal(s)} width={width} />
      <Note text={note} width={width} />
      {hints.map(row => (
        <Text key={row} wrap="truncate">{`${margin}${row}`}</Text>
      ))}
    </Box>
  )
}
