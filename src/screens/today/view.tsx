import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { dayText } from '../../music/day-words.ts'
import { endOf, type Line, timesOf } from '../../plan/order.ts'
import { inRows, kindOf, type Size, widthOf, windowOf } from '../home/layout.ts'
import { Bar } from '../home/parts.tsx'
import { lineShown } from '../line.ts'
import { theme } from '../theme.ts'
import { AFTER_FIELDS } from './after.ts'
import { clockText, lengthText, overText } from './lines.ts'
import { formAt, isOver, lineAt, questionAt, type State, stopped } from './reduce.ts'

type KeyNames = { readonly right: string; readonly left: string }
export type Shown = {
  readonly state: State
  readonly size: Size
  readonly keys: KeyNames
  /** A line in words. */
  readonly text: (l: Line) => string
}

/** Columns of the bar, the clock and the minutes. */
const BAR = 3
const CLOCK = 10
const MINUTES = 9

const Entry = (p: {
  line: Line
  time: number | null
  says: string
  on: boolean
  width: number
}): ReactElement => {
  const { line, on } = p
  const room = p.width - BAR - CLOCK - MINUTES - 1
  const rows = on ? inRows(p.says, room) : [p.says]
  const soft = line.state === 'open' ? {} : { color: theme.soft }
  return (
    <>
      {rows.map((row, i) => (
        <Box key={row} flexShrink={0}>
          <Bar on={on} />
          <Box width={CLOCK} flexShrink={0}>
            <Text {...soft}>{i > 0 || p.time === null ? '' : clockText(p.time)}</Text>
          </Box>
          <Box width={MINUTES} flexShrink={0}>
            <Text {...soft}>{i > 0 ? '' : lengthText(line)}</Text>
          </Box>
          <Text bold={on} wrap="truncate" {...soft}>
            {row}
          </Text>
        </Box>
      ))}
    </>
  )
}

/** What the pedals and keys do now. */
const hints = (s: State, keys: KeyNames, small = false): readonly string[] => {
  if (s.pain || (stopped(s) && !questionAt(s))) return ['   p: pieces  ?: help  f: leave']
  const line = lineAt(s)
  const begin = questionAt(s) ? 'answer' : line?.state === 'done' ? 'once more' : 'begin'
  if (small) return [`   Enter: ${begin}  p: pieces  ?: help  f: leave`]
  return [
    `   right (${keys.right}) or Enter: ${begin}   left (${keys.left}): next line`,
    '   s: skip  e, l: earlier, later  + -: minutes  p: pieces  ?: help  f: leave',
  ]
}

const notes = (s: State): readonly string[] => [
  ...s.note,
  ...(s.pain === null && isOver(s) && s.lines.length > 0 ? [overText(s.evening)] : []),
]

/** As many remarks as fit, in rows; none is cut. */
const wholeOnes = (all: readonly string[], width: number, room: number): readonly string[] => {
  const rows: string[] = []
  for (const text of all) {
    const more = inRows(text, width)
    if (rows.length + more.length <= room) rows.push(...more)
  }
  return rows
}

const Day = ({ state: s, size, keys, text }: Shown): ReactElement => {
  const width = widthOf(size)
  const times = timesOf(s.lines, s.now)
  const line = lineAt(s)
  const room = width - BAR - CLOCK - MINUTES - 1
  const wraps = line ? inRows(text(line), room).length - 1 : 0
  const said = notes(s)
    .flatMap(n => inRows(n, width - 4))
    .slice(0, Math.max(3, size.rows - 6))
  const title = inRows(s.title, width - 6)
  const small = kindOf(size) === 'small'
  const fixed = title.length + s.questions.length + wraps + said.length + (small ? 3 : 7)
  const from = windowOf(
    s.lines.length,
    Math.max(0, s.at - s.questions.length),
    Math.max(1, size.rows - fixed),
  )
  const left = size.rows - fixed - (from.to - from.from)
  const remarks = wholeOnes(s.remarks, width - 6, left - 1)
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
            says={text(l)}
            on={index + s.questions.length === s.at}
            width={width}
          />
        )
      })}
      <Text wrap="truncate">
        {`   ${from.to < s.lines.length ? `${s.lines.length - from.to} more` : `${clockText(endOf(s.lines, s.now)).padEnd(CLOCK + MINUTES)}Stop`}`}
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
      {hints(s, keys, small).map(row => (
        <Box key={row} flexShrink={0}>
          <Text wrap="truncate">{row}</Text>
        </Box>
      ))}
    </>
  )
}

/** Nothing is offered: what was noted, and what to do. */
const Pain = ({ state: s, size, keys }: Shown): ReactElement => (
  <>
    <Text bold wrap="truncate">{`   ${s.title}`}</Text>
    <Text> </Text>
    {inRows(s.pain ?? '', widthOf(size) - 6).map(row => (
      <Text key={row} bold wrap="truncate">{`   ${row}`}</Text>
    ))}
    <Box flexGrow={1} />
    {hints(s, keys).map(row => (
      <Text key={row} wrap="truncate">
        {row}
      </Text>
    ))}
  </>
)

/** After a date: three short fields. */
const After = ({ state: s, size, keys }: Shown): ReactElement => {
  const form = formAt(s)
  const width = widthOf(size)
  return (
    <>
      <Text bold wrap="truncate">{`   ${questionAt(s)?.piece ?? ''}: How was it?`}</Text>
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
      <Text wrap="truncate">{`   Enter or right (${keys.right}): next, at the end it is kept   up, down: choose`}</Text>
      <Text wrap="truncate">{`   Escape or left (${keys.left}): later; what is typed stays`}</Text>
    </>
  )
}

const helpLines = (keys: KeyNames): readonly string[] => [
  'The day, in its order. What is done is marked from what was played; skipping',
  'and moving cost nothing, and the clock times follow.',
  '',
  `  right (${keys.right}), Enter   begin what the line says`,
  `  left (${keys.left})            the next line, and round again`,
  '  up, down    choose',
  '  s           skip this line; again: take it in',
  '  e  l        this line earlier, later',
  '  +  -        five minutes more, five less, for this day',
  '  p, d        the list of the pieces; there d comes back to the day',
  '  f, q        leave',
  '',
  'A slot ends when its rung is decided, a minute late at most. Then: right what',
  'comes next, left two more minutes, no answer silence.',
  '',
  'Rest five minutes in each half hour. Stop when it hurts, and see a physician or',
  'therapist who treats musicians.',
  '',
  'Any key goes back.',
]

const Help = ({ keys, size }: Shown): ReactElement => (
  <>
    {helpLines(keys)
      .slice(0, size.rows - 1)
      .map((line, i) => (
        <Text key={i} wrap="truncate">{` ${line === '' ? ' ' : line}`}</Text>
      ))}
  </>
)

const Inside = (p: Shown): ReactElement => {
  const { view, pain } = p.state
  if (view === 'help') return <Help {...p} />
  if (view === 'after') return <After {...p} />
  return pain ? <Pain {...p} /> : <Day {...p} />
}

/** The plan of the day as a rehearsal order that is played from. */
export const DayView = (p: Shown): ReactElement => {
  const { size } = p
  if (kindOf(size) === 'none')
    return <Text wrap="wrap">The window is too small for the day: at least 40 columns and 12 rows.</Text>
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
