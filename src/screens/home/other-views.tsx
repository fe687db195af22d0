import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { daysAway } from '../../music/day-words.ts'
import type { Controls } from '../../terminal/key-table.ts'
import type { Size } from '../../terminal/screen-writer.ts'
import { theme } from '../../terminal/theme.ts'
import { inPhrases } from '../page.ts'
import type { Walk } from '../walk.ts'
import { CAUTIONS } from '../words.ts'
import { Cell } from './cells.tsx'
import { Hints, hints, Way } from './hints.tsx'
import { inRows, leader, shortened, widthOf, windowOf } from './layout.ts'
import { Bar, Cautions, CHOSEN, Note } from './parts.tsx'
import { partsOf, type State } from './reduce.ts'
import type { PassageRow } from './row.ts'
import { ANSWERS, CUT_QUESTION, headline, inShort, notShown, QUESTION, TO_LIST, WHOLE } from './words.ts'

type Shown = {
  readonly state: State
  readonly size: Size
  readonly controls: Controls
  readonly walk: Walk
  readonly now: number
}

/** Columns of the names, with the dots that lead to what they are. */
const NAMES = 20
/** The pages lie on the ledge of a stand. */
const STAND = ['▀'.repeat(74), `${' '.repeat(36)}▐▌`, `${' '.repeat(36)}▐▌`]

/** The first start: one question, three answers, and the cautions once. */
export const Question = (p: Shown): ReactElement => {
  const { state: s, size } = p
  return (
    <>
      <Text> </Text>
      <Text bold>{`   ${QUESTION}`}</Text>
      <Text> </Text>
      {ANSWERS.map((a, i) => (
        <Box key={a.answer} flexShrink={0}>
          <Bar on={i === s.answer} />
          <Cell width={NAMES}>
            <Text bold={i === s.answer}>{a.name}</Text>
            <Text color={theme.soft}>{leader(a.name.length, NAMES)}</Text>
          </Cell>
          <Text wrap="truncate">
            {a.says}
            <Text bold color={theme.mark}>
              {i === s.answer ? ' :║' : ''}
            </Text>
          </Text>
        </Box>
      ))}
      {STAND.map((row, i) => (
        <Text key={i} color={theme.soft}>{`   ${row}`}</Text>
      ))}
      <Text> </Text>
      {s.cautions ? <Cautions /> : null}
      <Box flexGrow={1} />
      <Note text={s.note} width={widthOf(size)} />
      <Way state={s} beside="" />
      <Hints {...p} take={needsHand(p) ? 'this one, at the keyboard' : 'this one'} />
    </>
  )
}

/** Who plays with one foot is told before a line asks for letters. */
const needsHand = ({ state: s, controls }: Shown): boolean =>
  controls.pedals === 1 && ANSWERS[s.answer]?.answer !== 'demo'

const titleOf = (s: State): string => {
  const row = s.rows[s.chosen]
  if (s.view === 'sections' && row) return `${row.piece}, ${row.place}`
  return s.view === 'question' ? QUESTION : headline(s.rows, s.around.today)
}

const when = (r: PassageRow): string => (r.days === null ? '' : `, ${daysAway(r.days)}`)

const marked = (on: boolean, text: string, cols: number): ReactElement => (
  <Text bold={on} wrap="truncate">
    {`${on ? CHOSEN.trim() : '  '}${shortened(text, cols - 2)}`}
  </Text>
)

/** Down to 40x12: a row for what it is, a row for where it stands. */
export const Small = (p: Shown): ReactElement => {
  const { state: s, size } = p
  const listing = s.view !== 'question'
  const inside = s.view === 'sections'
  const row = s.rows[s.chosen]
  const says = s.view === 'cut' ? CUT_QUESTION : s.note
  const below = [...(s.cautions ? inRows(CAUTIONS.join(' '), size.cols) : []), ...inRows(says, size.cols)]
  const title = inRows(titleOf(s), size.cols)
  const take = listing ? 'practice' : 'this one'
  const keys = inPhrases(
    p.controls.pedals === 1
      ? `${hints({ ...p, take })[0]}   ${listing ? 'n: note  ' : ''}?: help  f: leave`
      : `right: ${take}  left: next  ${listing ? 'a: add  n: note  ' : ''}?: help  f: leave`,
    size.cols,
  )
  // Among sections the word is the first to go.
  const brief = (place: string): string =>
    [...place].length > size.cols - 2 ? place.replace(/^section /, '') : place
  const room = Math.max(1, Math.floor((size.rows - 1 - keys.length - title.length - below.length) / 2))
  const all: readonly (readonly [string, string])[] = inside
    ? [...partsOf(s).map(p => [p === row ? WHOLE : brief(p.place), inShort(p)] as const), [TO_LIST, '']]
    : s.rows.map(r => [`${r.piece}, ${r.place}`, `${inShort(r)}${when(r)}`] as const)
  const at = inside ? s.part : s.chosen
  const { from, to } = windowOf(all.length, at, room)
  return (
    <>
      {title.map(row => (
        <Text key={row} bold>
          {row}
        </Text>
      ))}
      {listing
        ? all.slice(from, to).map(([what, where], i) => (
            <Box key={from + i} flexDirection="column" flexShrink={0}>
              {marked(from + i === at, what, size.cols)}
              {marked(from + i === at, where, size.cols)}
            </Box>
          ))
        : ANSWERS.map((a, i) => (
            <Box key={a.answer}>{marked(i === s.answer, `${a.name}: ${a.brief}`, size.cols)}</Box>
          ))}
      {listing ? <Text>{`  ${notShown(from, all.length - to)}`}</Text> : null}
      <Box flexGrow={1} />
      {below.map((row, i) => (
        <Text key={i} wrap="truncate">
          {row}
        </Text>
      ))}
      {keys.map(row => (
        <Text key={row} wrap="truncate">
          {row}
        </Text>
      ))}
    </>
  )
}
