import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import type { Controls } from '../../terminal/key-table.ts'
import type { Size } from '../../terminal/screen-writer.ts'
import { theme } from '../../terminal/theme.ts'
import type { Walk } from '../walk.ts'
import { Cell, DATE, Heading, musicWidth, Numbers } from './cells.tsx'
import { Hints, joinHint } from './hints.tsx'
import { inRows, leader, shortened, widthOf, windowOf } from './layout.ts'
import { Bar, Note } from './parts.tsx'
import { partsOf, type State } from './reduce.ts'
import type { LadderRow, PassageRow } from './row.ts'
import { notShown, numbers, sureness, TO_LIST, unitsOf, WHOLE } from './words.ts'

/** Rows above the first section, and below the last: what is not shown, the keys. */
const HEAD = 5
const FOOT = 4

/** No date stands here: its columns are the music's. */
const partWidth = (width: number): number => musicWidth(width) + DATE

const Line = (p: { part: LadderRow; row: PassageRow; on: boolean; width: number }): ReactElement => {
  const { part, row, on, width } = p
  const n = numbers(part)
  const room = partWidth(width)
  const sure = sureness(part) === '' ? '' : `   ${sureness(part)}`
  const words = shortened(part === row ? WHOLE : part.place, room - 1 - sure.length) + sure
  return (
    <Box flexShrink={0}>
      <Bar on={on} />
      <Cell width={room}>
        <Text bold={on}>{words}</Text>
        <Text color={theme.soft}>{leader([...words].length, room)}</Text>
      </Cell>
      <Numbers next={n.next} ceiling={n.ceiling} goal={<Text bold>{n.goal}</Text>} />
    </Box>
  )
}

/** The sections of the chosen passage, one line each, the whole passage, and the way back. */
export const Sections = (p: {
  state: State
  size: Size
  controls: Controls
  walk: Walk
  now: number
}): ReactElement => {
  const { state: s, size } = p
  const row = s.rows[s.chosen]
  if (!row) return <Text> </Text>
  const width = widthOf(size)
  const parts = partsOf(s)
  const room = size.rows - HEAD - FOOT - inRows(s.note, width).length
  const { from, to } = windowOf(parts.length + 1, s.part, room)
  return (
    <>
      <Text bold wrap="truncate">{`   ${row.piece}, ${row.place}`}</Text>
      <Text wrap="truncate">{`   ${joinHint(row, p.controls)}`}</Text>
      <Heading what={`in ${unitsOf(row)}`} when={null} music={partWidth(width)} />
      <Text> </Text>
      {parts.slice(from, to).map((part, i) => (
        <Line key={part.id} part={part} row={row} on={from + i === s.part} width={width} />
      ))}
      {to > parts.length ? (
        <Box flexShrink={0}>
          <Bar on={s.part === parts.length} />
          <Text>{TO_LIST}</Text>
        </Box>
      ) : null}
      <Box flexGrow={1} />
      <Text color={theme.soft}>{`   ${notShown(from, parts.length + 1 - to)}`}</Text>
      <Note text={s.note} width={width} />
      <Hints {...p} take={s.part === parts.length ? 'back' : 'practice'} />
    </>
  )
}
