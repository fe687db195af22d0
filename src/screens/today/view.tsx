import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { dayText } from '../../music/day-words.ts'
import { type DayLine, endOf, timesOf } from '../../plan/order.ts'
import { keyLabel } from '../../terminal/key-label.ts'
import { type Controls, keyHelp } from '../../terminal/key-table.ts'
import type { Size } from '../../terminal/screen-writer.ts'
import { theme } from '../../terminal/theme.ts'
import type { Chapter } from '../help.ts'
import { BAR } from '../home/cells.tsx'
import { inRows, kindOf, widthOf, windowOf } from '../home/layout.ts'
import { Bar, CHOSEN, Composed } from '../home/parts.tsx'
import { lineShown } from '../line.ts'
import { ONE_PEDAL_LISTS } from '../words.ts'
import { type Columns, fitting, WHAT } from './columns.ts'
import { hintRows } from './hints.ts'
import { DAY_KEYS } from './key-table.ts'
import { clockText, lengthText, overText, wholeOnes } from './line-words.ts'
import { atStop, formAt, isOver, lineAt, menuOf, questionAt, type State } from './reduce.ts'
import { Ways } from './ways-view.tsx'
import { AFTER_FIELDS, DAY_IN_ORDER, howWasIt, TURN_ENDS } from './words.ts'

export type Shown = {
  readonly state: State
  readonly size: Size
  readonly controls: Controls
  /** What pedals and keys do now. */
  readonly hint: (s: State, small?: boolean) => readonly string[]
  /** A line in words, and in columns. */
  readonly text: (l: DayLine) => string
  readonly columns: (l: DayLine) => Columns
}

/** Columns of the clock and the minutes. */
const CLOCK = 7
const MINUTES = 9
/** A window so narrow has the minutes close by, so that the tempos have room; one with less room than this leaves them out. */
const NARROW = 60
const CLOSE = 7
const ROOM = 28
const minutesIn = (width: number): number => (width < NARROW ? CLOSE : MINUTES)

/** What stands on a line that the cursor does not stand on. */
const columnText = ({ what, tempo }: Columns, room: number): string => {
  if (room < ROOM) return fitting(what, room)
  const name = Math.min(WHAT, room - tempo.length - 2)
  return `${fitting(what, name).padEnd(name + 2)}${tempo}`.trimEnd()
}

const Entry = (p: {
  line: DayLine
  time: number | null
  says: string | Columns
  on: boolean
  width: number
}): ReactElement => {
  const { line, on } = p
  const minutes = minutesIn(p.width)
  const room = p.width - BAR - CLOCK - minutes - 1
  const rows = typeof p.says === 'string' ? inRows(p.says, room) : [columnText(p.says, room)]
  const soft = line.state === 'open' ? {} : { color: theme.soft }
  return (
    <>
      {rows.map((row, i) => (
        <Box key={row} flexShrink={0}>
          <Bar on={on} />
          <Box width={CLOCK} flexShrink={0}>
            <Text {...soft}>{i > 0 || p.time === null ? '' : clockText(p.time)}</Text>
          </Box>
          <Box width={minutes} flexShrink={0}>
            <Text {...soft}>{i > 0 ? '' : lengthText(line, p.time)}</Text>
          </Box>
          <Text bold={on} wrap="truncate" {...soft}>
            {row}
          </Text>
        </Box>
      ))}
    </>
  )
}

const notes = (s: State): readonly string[] => [
  ...s.note,
  ...(s.pain === null && isOver(s) && s.lines.length > 0 ? [overText(s.evening)] : []),
]

const Day = ({ state: s, size, hint, text, columns }: Shown): ReactElement => {
  const width = widthOf(size)
  const times = timesOf(s.lines, s.now)
  const line = lineAt(s)
  const room = width - BAR - CLOCK - minutesIn(width) - 1
  const wraps = line ? inRows(text(line), room).length - 1 : 0
  const said = notes(s)
    .flatMap(n => inRows(n, width - 4))
    .slice(0, Math.max(3, size.rows - 6))
  const title = inRows(s.title, width - 6)
  const small = kindOf(size) === 'small'
  const keys = hintRows(hint(s, small), width)
  const fixed = title.length + s.questions.length + wraps + said.length + keys.length + (small ? 2 : 5)
  const from = windowOf(
    s.lines.length,
    Math.max(0, s.at - s.questions.length),
    Math.max(1, size.rows - fixed),
  )
  const left = size.rows - fixed - (from.to - from.from)
  const remarks = wholeOnes(s.remarks, r => inRows(r, width - 6), left - 1)
  return (
    <>
      {title.map(row => (
        <Text key={row} bold wrap="truncate">{`   ${row}`}</Text>
      ))}
      {small ? null : <Text> </Text>}
      {s.questions.map((q, i) => (
        <Box key={q.piece} flexShrink={0}>
          <Bar on={i === s.at} />
          <Text bold={i === s.at} wrap="truncate">
            {`How was it? ${q.piece}, ${dayText(q.readyBy, s.questions[0]?.readyBy ?? q.readyBy)}`}
          </Text>
        </Box>
      ))}
      {s.lines.slice(from.from, from.to).map((l, i) => {
        const index = from.from + i
        return (
          <Entry
            key={l.name}
            line={l}
            time={times[index] ?? null}
            says={index + s.questions.length === s.at ? text(l) : columns(l)}
            on={index + s.questions.length === s.at}
            width={width}
          />
        )
      })}
      <Text wrap="truncate" bold={atStop(s)}>
        {`${atStop(s) ? CHOSEN : '   '}${from.to < s.lines.length ? `${s.lines.length - from.to} more` : `${clockText(endOf(s.lines, s.now)).padEnd(CLOCK + minutesIn(width))}Stop`}`}
      </Text>
      {remarks.length > 0 ? <Text> </Text> : null}
      {remarks.map((r, i) => (
        <Text key={i} color={theme.soft} wrap="truncate">{`   ${r}`}</Text>
      ))}
      <Box flexGrow={1} />
      <Box flexDirection="column" flexShrink={0}>
        {said.map((row, i) => (
          <Text key={i} bold wrap="truncate">{`   ${row}`}</Text>
        ))}
      </Box>
      {keys.map(row => (
        <Box key={row} flexShrink={0}>
          <Text wrap="truncate">{row}</Text>
        </Box>
      ))}
    </>
  )
}

/** Nothing is offered: what was noted, and what to do. */
const Pain = ({ state: s, size, hint }: Shown): ReactElement => (
  <>
    <Text bold wrap="truncate">{`   ${s.title}`}</Text>
    <Text> </Text>
    {inRows(s.pain ?? '', widthOf(size) - 6).map(row => (
      <Text key={row} bold wrap="truncate">{`   ${row}`}</Text>
    ))}
    <Box flexGrow={1} />
    {hintRows(hint(s), widthOf(size)).map(row => (
      <Text key={row} wrap="truncate">
        {row}
      </Text>
    ))}
  </>
)

export const afterTitle = (s: State): string => howWasIt(questionAt(s)?.piece ?? '')

/** What the keys do while the answers are typed. */
export const afterKeys = (c: Controls): readonly string[] => [
  `Enter${c.pedals === 2 ? ` or right (${keyLabel(c.right)})` : ''}: next; the last one saves   up, down: choose`,
  `Escape or ${c.pedals === 2 ? `left (${keyLabel(c.left)})` : `the pedal (${keyLabel(c.right)})`}: later; what you typed stays`,
]

/** After a date: three short fields. */
const After = ({ state: s, size, controls: c }: Shown): ReactElement => {
  const form = formAt(s)
  const width = widthOf(size)
  return (
    <>
      <Text bold wrap="truncate">{`   ${afterTitle(s)}`}</Text>
      <Text> </Text>
      {AFTER_FIELDS.map((f, i) => {
        const on = i === form.at
        const { text, cursor } = form.texts[f.key]
        const [before, mark, after] = lineShown(text, on ? cursor : null, width - BAR - 16)
        return (
          <Box key={f.key} flexShrink={0}>
            <Bar on={on} />
            <Box width={14} flexShrink={0}>
              <Text bold={on}>{f.label}</Text>
            </Box>
            <Text wrap="truncate">
              {before}
              <Text inverse={on}>{mark}</Text>
              {after}
            </Text>
          </Box>
        )
      })}
      <Text> </Text>
      <Text color={theme.soft} wrap="truncate">{`   ${AFTER_FIELDS[form.at]?.hint ?? ''}`}</Text>
      <Box flexGrow={1} />
      {s.note
        .flatMap(n => inRows(n, width - 6))
        .map((row, i) => (
          <Text key={i} bold wrap="truncate">{`   ${row}`}</Text>
        ))}
      {afterKeys(c).map(row => (
        <Text key={row} wrap="truncate">{`   ${row}`}</Text>
      ))}
    </>
  )
}

/** What the pedals and the keys of the day do. */
export const dayHelp = (c: Controls): readonly Chapter[] => [
  { title: '', entries: [['', DAY_IN_ORDER]] },
  {
    title: 'The pedals',
    entries:
      c.pedals === 1
        ? [['', ONE_PEDAL_LISTS]]
        : [
            [keyLabel(c.right), 'begin what the line says'],
            [keyLabel(c.left), 'the next line, and round again'],
          ],
  },
  { title: 'The keys', entries: keyHelp(DAY_KEYS, c.choice) },
  { title: '', entries: [['', TURN_ENDS]] },
]

const Inside = (p: Shown): ReactElement => {
  const { view, pain } = p.state
  if (menuOf(p.state)) return <Ways {...p} />
  if (view === 'after') return <After {...p} />
  return pain ? <Pain {...p} /> : <Day {...p} />
}

/** The plan of the day as a rehearsal order that is played from. */
export const DayView = (p: Shown): ReactElement => (
  <Composed size={p.size} what="for the day">
    <Inside {...p} />
  </Composed>
)
