import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import type { Size } from '../../terminal/screen-writer.ts'
import { theme } from '../../terminal/theme.ts'
import { BAR } from '../home/cells.tsx'
import { inRows, kindOf, rowsAround, widthOf } from '../home/layout.ts'
import { Bar } from '../home/parts.tsx'
import { notShown } from '../home/words.ts'
import { hintRows } from './hints.ts'
import { wholeOnes } from './line-words.ts'
import { menuOf, menuTitle, type State } from './reduce.ts'

type Shown = {
  readonly state: State
  readonly size: Size
  readonly hint: (s: State) => readonly string[]
}

/** Rows of the choices that stand in any window. */
const LEAST = 5

/** Where it is too much: the ways out, one of them under the cursor. */
export const Ways = ({ state: s, size, hint }: Shown): ReactElement => {
  const width = widthOf(size)
  const title = inRows(menuTitle(s), width - 6)
  const keys = hintRows(hint(s), width)
  const rows = (menuOf(s) ?? []).map(w => inRows(w.text, width - BAR - 2))
  const lengths = rows.map(r => r.length)
  const all = lengths.reduce((n, length) => n + length, 0)
  const room = size.rows - title.length - keys.length - (kindOf(size) === 'full' ? 2 : 1)
  // What is chosen from comes before what was said.
  const said = wholeOnes(s.note, n => inRows(n, width - 4), room - Math.min(all, LEAST))
  const free = room - said.length
  const whole = all <= free
  const { from, to } = rowsAround(lengths, s.pick, whole ? free : free - 1)
  return (
    <>
      {title.map(row => (
        <Text key={row} bold wrap="truncate">{`   ${row}`}</Text>
      ))}
      <Text> </Text>
      {rows.slice(from, to).flatMap((way, i) =>
        way.map((row, n) => (
          <Box key={`${i} ${row}`} flexShrink={0}>
            <Bar on={from + i === s.pick} />
            <Text bold={from + i === s.pick} wrap="truncate">{`${n > 0 ? '  ' : ''}${row}`}</Text>
          </Box>
        )),
      )}
      {whole ? null : (
        <Text color={theme.soft} wrap="truncate">{`   ${notShown(from, rows.length - to)}`}</Text>
      )}
      <Box flexGrow={1} />
      {said.map(row => (
        <Text key={row} bold wrap="truncate">{`   ${row}`}</Text>
      ))}
      {keys.map(row => (
        <Text key={row} wrap="truncate">
          {row}
        </Text>
      ))}
    </>
  )
}
