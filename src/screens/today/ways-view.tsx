import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import type { Size } from '../../terminal/screen-writer.ts'
import { BAR } from '../home/cells.tsx'
import { inRows, kindOf, rowsAround, widthOf } from '../home/layout.ts'
import { Bar } from '../home/parts.tsx'
import { hintRows } from './hints.ts'
import { menuOf, menuTitle, type State } from './reduce.ts'

type Shown = {
  readonly state: State
  readonly size: Size
  readonly hint: (s: State) => readonly string[]
}

/** Where it is too much: the ways out, one of them under the cursor. */
export const Ways = ({ state: s, size, hint }: Shown): ReactElement => {
  const width = widthOf(size)
  const title = inRows(menuTitle(s), width - 6)
  const keys = hintRows(hint(s), width)
  const rows = (menuOf(s) ?? []).map(w => inRows(w.text, width - BAR - 2))
  const said = s.note.flatMap(n => inRows(n, width - 4))
  const free = size.rows - title.length - keys.length - said.length - (kindOf(size) === 'full' ? 2 : 1)
  const { from, to } = rowsAround(
    rows.map(r => r.length),
    s.pick,
    free,
  )
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
