import { Box, Text } from 'ink'
import type { ReactElement, ReactNode } from 'react'
import { theme } from '../theme.ts'
import { FormView } from './form-view.tsx'
import { entriesThatFit, inRows, kindOf, leader, type Size, widthOf, windowOf } from './layout.ts'
import { Help, Question, Small } from './other-views.tsx'
import { Bar, Cautions, Note } from './parts.tsx'
import { formOf, type State } from './reduce.ts'
import type { Row } from './row.ts'
import {
  CAUTIONS,
  dateColumn,
  headline,
  helpLines,
  type KeyNames,
  notShown,
  numbers,
  sureness,
  unitOf,
} from './words.ts'

export type Shown = { readonly state: State; readonly size: Size; readonly keys: KeyNames }

/** Columns of the bar line, the dates and each number; what is left between them is the music's. */
const BAR = 3
const DATE = 15
const NUMBERS = { next: 12, ceiling: 10, goal: 9 } as const
const MARGIN = 3
const musicWidth = (width: number): number =>
  width - BAR - DATE - NUMBERS.next - NUMBERS.ceiling - NUMBERS.goal - MARGIN

const Cell = (p: { width: number; right?: boolean; children: ReactNode }): ReactElement => (
  <Box width={p.width} flexShrink={0} {...(p.right ? { justifyContent: 'flex-end' as const } : {})}>
    <Text wrap="truncate">{p.children}</Text>
  </Box>
)

const Numbers = (p: { next: ReactNode; ceiling: ReactNode; goal: ReactNode }): ReactElement => (
  <>
    <Cell width={NUMBERS.next} right>
      {p.next}
    </Cell>
    <Cell width={NUMBERS.ceiling} right>
      {p.ceiling}
    </Cell>
    <Cell width={NUMBERS.goal} right>
      {p.goal}
    </Cell>
  </>
)

const Entry = (p: { row: Row; on: boolean; today: string; width: number }): ReactElement => {
  const { row, on, width } = p
  const [date, when] = dateColumn(row, p.today)
  const n = numbers(row)
  const sure = sureness(row)
  const music = musicWidth(width)
  const words = width > 80 ? `${row.place}, ${row.music}` : row.place
  return (
    <Box flexDirection="column" marginBottom={1} flexShrink={0}>
      <Box>
        <Bar on={on} />
        <Cell width={DATE}>{when === '' ? 'no date' : when}</Cell>
        <Box width={music + NUMBERS.next}>
          <Text wrap="truncate">
            <Text bold={on}>{row.piece}</Text>
            <Text color={theme.soft}>{sure === '' ? '' : `   ${sure}`}</Text>
          </Text>
        </Box>
        <Cell width={NUMBERS.ceiling + NUMBERS.goal} right>
          <Text color={theme.soft}>{unitOf(row)}</Text>
        </Cell>
      </Box>
      <Box>
        <Bar on={on} />
        <Cell width={DATE}>{date}</Cell>
        <Cell width={music}>
          {words}
          <Text color={theme.soft}>{leader([...words].length, music)}</Text>
        </Cell>
        <Numbers next={n.next} ceiling={n.ceiling} goal={<Text bold>{n.goal}</Text>} />
      </Box>
    </Box>
  )
}

const List = ({ state: s, size, keys }: Shown): ReactElement => {
  const width = widthOf(size)
  const note = inRows(s.note, width - 2 * BAR).length
  const room = entriesThatFit(size, note + (s.cautions ? CAUTIONS.length + 1 : 0))
  const { from, to } = windowOf(s.rows.length, s.chosen, room)
  const soft = (text: string): ReactElement => <Text color={theme.soft}>{text}</Text>
  return (
    <>
      <Text bold wrap="truncate">{`   ${headline(s.rows, s.around.today)}`}</Text>
      <Text> </Text>
      <Box marginBottom={1} flexShrink={0}>
        <Bar on={false} />
        <Cell width={DATE + musicWidth(width)}>{soft('ready by')}</Cell>
        <Numbers next={soft('next from')} ceiling={soft('ceiling')} goal={soft('goal')} />
      </Box>
      {s.rows.slice(from, to).map((row, i) => (
        <Entry key={row.id} row={row} on={from + i === s.chosen} today={s.around.today} width={width} />
      ))}
      <Box flexGrow={1} />
      <Text color={theme.soft}>{`   ${notShown(from, s.rows.length - to)}`}</Text>
      {s.cautions ? <Cautions /> : null}
      <Note text={s.note} width={width} />
      <Text wrap="truncate">{`   right (${keys.right}) or Enter: practice   left (${keys.left}): next line`}</Text>
      <Text wrap="truncate">{'   up, down: choose   d: the day   n: new passage   ?: help   f: leave'}</Text>
    </>
  )
}

const Inside = (p: Shown): ReactElement => {
  const { state: s, size } = p
  const form = formOf(s)
  if (form) return <FormView state={s} form={form} size={size} />
  if (s.view === 'help') return <Help lines={helpLines(p.keys)} size={size} />
  if (s.view === 'day') return <Help lines={s.day} size={size} />
  if (kindOf(size) === 'small') return <Small {...p} />
  return s.view === 'question' ? <Question {...p} /> : <List {...p} />
}

/** The repertoire as a program sheet, and what belongs to it: the question of the first start, the forms, the help. */
export const HomeView = (p: Shown): ReactElement => {
  const { size } = p
  if (kindOf(size) === 'none')
    return (
      <Text wrap="wrap">The window is too small for the repertoire: at least 40 columns and 12 rows.</Text>
    )
  const width = widthOf(size)
  return (
    <Box
      flexDirection="column"
      width={width}
      height={size.rows}
      paddingTop={kindOf(size) === 'full' ? 1 : 0}
      marginLeft={Math.floor((size.cols - width) / 2)}
    >
      <Inside {...p} />
    </Box>
  )
}
