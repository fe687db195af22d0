import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { inRows, type Size, widthOf, windowOf } from './layout.ts'
import { Bar, Cautions, Note } from './parts.tsx'
import type { State } from './reduce.ts'
import { ANSWERS, CAUTIONS, GO_BACK, headline, inShort, type KeyNames, notShown, QUESTION } from './words.ts'

type Shown = { readonly state: State; readonly size: Size; readonly keys: KeyNames }

/** The first start: one question, three answers, and the cautions once. */
export const Question = ({ state: s, size, keys }: Shown): ReactElement => (
  <>
    <Text> </Text>
    <Text bold>{`   ${QUESTION}`}</Text>
    <Text> </Text>
    {ANSWERS.map((a, i) => (
      <Box key={a.answer} marginBottom={1} flexShrink={0}>
        <Box flexDirection="column">
          <Bar on={i === s.answer} />
          <Bar on={i === s.answer} />
        </Box>
        <Box flexDirection="column">
          <Text bold={i === s.answer}>{a.name}</Text>
          <Text>{a.says}</Text>
        </Box>
      </Box>
    ))}
    <Text> </Text>
    {s.cautions ? <Cautions /> : null}
    <Box flexGrow={1} />
    <Note text={s.note} width={widthOf(size)} />
    <Text wrap="truncate">{`   right (${keys.right}) or Enter: this one   left (${keys.left}): next line`}</Text>
    <Text wrap="truncate">{'   up, down: choose   ?: help   f: leave'}</Text>
  </>
)

const marked = (on: boolean, text: string): ReactElement => (
  <Text bold={on} wrap="truncate">
    {`${on ? '┃' : ' '} ${text}`}
  </Text>
)

/** Down to 40x12: a row for what it is, a row for where it stands. */
export const Small = ({ state: s, size }: Shown): ReactElement => {
  const listing = s.view === 'list'
  const below = [...(s.cautions ? inRows(CAUTIONS.join(' '), size.cols) : []), ...inRows(s.note, size.cols)]
  const title = inRows(listing ? headline(s.rows, s.around.today) : QUESTION, size.cols)
  const room = Math.max(1, Math.floor((size.rows - 2 - title.length - below.length) / 2))
  const { from, to } = windowOf(s.rows.length, s.chosen, room)
  return (
    <>
      {title.map(row => (
        <Text key={row} bold>
          {row}
        </Text>
      ))}
      {listing
        ? s.rows.slice(from, to).map((r, i) => (
            <Box key={r.id} flexDirection="column" flexShrink={0}>
              {marked(from + i === s.chosen, `${r.piece}, ${r.place}`)}
              {marked(from + i === s.chosen, inShort(r))}
            </Box>
          ))
        : ANSWERS.map((a, i) => <Box key={a.answer}>{marked(i === s.answer, `${a.name}: ${a.says}`)}</Box>)}
      {listing ? <Text>{`  ${notShown(from, s.rows.length - to)}`}</Text> : null}
      <Box flexGrow={1} />
      {below.map((row, i) => (
        <Text key={i} wrap="truncate">
          {row}
        </Text>
      ))}
      <Text wrap="truncate">
        {listing ? 'Enter: practice n: new ?: help f: leave' : 'Enter: this one  ?: help  f: leave'}
      </Text>
    </>
  )
}

/** Lines to read, and a key to go back: the help, the plan of the day. */
export const Help = ({ lines, size }: { lines: readonly string[]; size: Size }): ReactElement => (
  <>
    {[...lines.slice(0, size.rows - 3), '', GO_BACK].map((line, i) => (
      <Text key={i} wrap="truncate">
        {line === '' ? ' ' : ` ${line}`}
      </Text>
    ))}
  </>
)
