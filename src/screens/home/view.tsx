import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import type { Controls } from '../../terminal/key-table.ts'
import type { Size } from '../../terminal/screen-writer.ts'
import { theme } from '../../terminal/theme.ts'
import { NewView } from '../form/new-view.tsx'
import type { Walk } from '../walk.ts'
import { CAUTIONS } from '../words.ts'
import { BAR, Cell, DATE, Heading, musicWidth, Numbers } from './cells.tsx'
import { Hints, joinHint, Way } from './hints.tsx'
import { inRows, kindOf, leader, passagesShown, shortened, widthOf } from './layout.ts'
import { Question, Small } from './other-views.tsx'
import { Bar, Cautions, Composed, Note } from './parts.tsx'
import { formOf, type State } from './reduce.ts'
import type { PassageRow } from './row.ts'
import { Sections } from './sections-view.tsx'
import { CUT_QUESTION, dateColumn, detail, headline, notShown, numbers, sureness } from './words.ts'

export type Shown = {
  readonly state: State
  readonly size: Size
  readonly controls: Controls
  readonly walk: Walk
  /** Monotonic ms, for what a press means now. */
  readonly now: number
}

/** A passage in one row; of the chosen one a second row says what has no column. */
const Passage = (p: {
  row: PassageRow
  on: boolean
  today: string
  width: number
  joins: string
}): ReactElement => {
  const { row, on, width } = p
  const [date, when] = dateColumn(row, p.today)
  const n = numbers(row)
  const music = musicWidth(width)
  const sure = sureness(row)
  const place = shortened(row.place, music - 1 - (sure === '' ? 0 : sure.length + 2))
  const words = sure === '' ? place : `${place}  ${sure}`
  return (
    <>
      <Box flexShrink={0}>
        <Bar on={on} />
        <Cell width={music}>
          <Text bold={on}>{place}</Text>
          <Text color={theme.soft}>
            {words.slice(place.length)}
            {leader([...words].length, music)}
          </Text>
        </Cell>
        <Numbers next={n.next} ceiling={n.ceiling} goal={<Text bold>{n.goal}</Text>} />
        <Cell width={DATE} right>
          {when === '' ? 'no date' : when}
        </Cell>
      </Box>
      {on ? (
        <Text color={theme.soft} wrap="truncate">
          {`   ${detail(row, date, p.joins)}`}
        </Text>
      ) : null}
    </>
  )
}

const List = (p: Shown): ReactElement => {
  const { state: s, size } = p
  const width = widthOf(size)
  const says = s.view === 'cut' ? CUT_QUESTION : s.note
  const note = inRows(says, width - 2 * BAR).length
  const { from, to } = passagesShown(
    s.rows.map(r => r.piece),
    s.chosen,
    size,
    note + (s.cautions ? CAUTIONS.length + 1 : 0),
  )
  return (
    <>
      <Text bold wrap="truncate">{`   ${headline(s.rows, s.around.today)}`}</Text>
      <Text> </Text>
      <Heading what="" when="ready by" music={musicWidth(width)} />
      {s.rows.slice(from, to).map((row, i, shown) => (
        <Box key={row.id} flexDirection="column" flexShrink={0}>
          {row.piece === shown[i - 1]?.piece ? null : <Text wrap="truncate-middle">{`   ${row.piece}`}</Text>}
          <Passage
            row={row}
            on={from + i === s.chosen}
            today={s.around.today}
            width={width}
            joins={joinHint(row, p.controls)}
          />
        </Box>
      ))}
      <Box flexGrow={1} />
      <Way state={s} beside={notShown(from, s.rows.length - to)} />
      {s.cautions ? <Cautions /> : null}
      <Note text={says} width={width} />
      <Hints {...p} take={s.rows[s.chosen]?.sections.length ? 'its sections' : 'practice'} />
    </>
  )
}

const Inside = (p: Shown): ReactElement => {
  const { state: s, size } = p
  const form = formOf(s)
  if (form) return <NewView state={s} form={form} size={size} />
  if (kindOf(size) === 'small') return <Small {...p} />
  if (s.view === 'sections') return <Sections {...p} />
  return s.view === 'question' ? <Question {...p} /> : <List {...p} />
}

/** The repertoire as a program sheet, and what belongs to it: the question of the first start, the forms, the help. */
export const HomeView = (p: Shown): ReactElement => (
  <Composed size={p.size} what="for the repertoire">
    <Inside {...p} />
  </Composed>
)
