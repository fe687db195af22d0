import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { inRows, kindOf, type Size, widthOf, windowOf } from '../home/layout.ts'
import { Bar, Note } from '../home/parts.tsx'
import { notShown } from '../home/words.ts'
import { lineShown } from '../line.ts'
import { theme } from '../theme.ts'
import { hintOf, labelOf, type Wrong, wrong } from './form.ts'
import { ANSWERS, type State } from './reduce.ts'

export type Shown = { readonly state: State; readonly title: string; readonly size: Size }

/** Columns of the labels, and of the texts in a window of 80; a wider one gives the rest to the texts. */
const LABEL = 13
const BEFORE = 24
const BAR = 3

/** Rows around the list of fields: title, what is not shown, hint, complaint, note and keys. */
const AROUND = { full: 11, small: 8 }

/** Rows of the form that fit. */
export const rowsThatFit = (size: Size): number =>
  Math.max(1, size.rows - (kindOf(size) === 'small' ? AROUND.small : AROUND.full))

const Field = (p: { s: State; index: number; bad: Wrong | null; size: Size }): ReactElement => {
  const { s, index, size } = p
  const row = s.form.rows[index]
  const on = index === s.form.at
  const narrow = kindOf(size) === 'small'
  const text = widthOf(size) - BAR - LABEL - (narrow ? 0 : BEFORE)
  const [before, mark, after] = lineShown(row?.text ?? '', on ? s.form.cursor : null, text - 1)
  const changed = row !== undefined && row.text.trim() !== row.was
  // A new place brings its number of measures, unless that is typed too.
  const follows =
    row?.key === 'count' && s.form.rows.some(r => r.key === 'measures' && r.text.trim() !== r.was)
  const told = changed ? `before: ${row.was || 'none'}` : follows ? 'as the place says' : ''
  const beside = p.bad?.row === index ? 'look again' : told
  return (
    <Box height={1} flexShrink={0}>
      <Bar on={on} />
      <Box width={LABEL} flexShrink={0}>
        <Text bold={on} wrap="truncate">
          {labelOf(s.form, index)}
        </Text>
      </Box>
      <Box width={text} flexShrink={0}>
        <Text wrap="truncate">
          {before}
          <Text bold color={theme.mark}>
            {mark}
          </Text>
          {after}
        </Text>
      </Box>
      {narrow ? null : (
        <Text wrap="truncate" color={p.bad?.row === index ? theme.bad : theme.soft}>
          {beside}
        </Text>
      )}
    </Box>
  )
}

const Fields = ({ state: s, title, size }: Shown): ReactElement => {
  const narrow = kindOf(size) === 'small'
  const { from, to } = windowOf(s.form.rows.length, s.form.at, rowsThatFit(size))
  const bad = wrong(s.form, s.around)
  const last = s.form.at === s.form.rows.length - 1
  const margin = narrow ? '' : '   '
  const below = (text: string, color: string) =>
    inRows(text, widthOf(size) - 2 * margin.length).map((row, i) => (
      <Text key={i} color={color} wrap="truncate">
        {margin + row}
      </Text>
    ))
  return (
    <>
      <Text bold wrap="truncate">{`${margin}${title}`}</Text>
      {narrow ? null : <Text> </Text>}
      {s.form.rows.slice(from, to).map((_, i) => (
        <Field key={from + i} s={s} index={from + i} bad={bad} size={size} />
      ))}
      <Text color={theme.soft}>{`${margin}${notShown(from, s.form.rows.length - to)}`}</Text>
      {below(hintOf(s.form), theme.soft)}
      {below(bad?.says ?? '', theme.bad)}
      <Box flexGrow={1} />
      <Note text={s.busy ? 'Storing ...' : s.note} width={widthOf(size)} />
      <Text wrap="truncate">
        {narrow
          ? 'Ctrl+S: store it   Escape: leave'
          : `   Enter: ${last ? 'store it' : 'next line'}   up, down: another line   Ctrl+S: store it   Escape: leave`}
      </Text>
    </>
  )
}

const SAID = {
  leave: () => 'What you typed is not stored yet.',
  history: (s: State) => `${s.moved}. What becomes of its history?`,
}

const Question = ({ state: s, title, size }: Shown): ReactElement => {
  const view = s.view === 'form' ? 'leave' : s.view
  const narrow = kindOf(size) === 'small'
  const margin = narrow ? '' : '   '
  return (
    <>
      <Text bold wrap="truncate">{`${margin}${title}`}</Text>
      <Text> </Text>
      {inRows(SAID[view](s), widthOf(size) - 6).map((row, i) => (
        <Text key={i} wrap="truncate">{`${margin}${row}`}</Text>
      ))}
      <Text> </Text>
      {ANSWERS[view].map((a, i) => (
        <Box key={a.name} height={1} flexShrink={0}>
          <Bar on={i === s.answer} />
          <Text wrap="truncate">
            <Text bold={i === s.answer}>{a.name}</Text>
            {narrow ? '' : `: ${a.says}`}
          </Text>
        </Box>
      ))}
      <Box flexGrow={1} />
      <Text wrap="truncate">
        {narrow
          ? 'Enter: this one   Escape: the form'
          : `${margin}up, down: choose   Enter: this one   Escape: back to the form`}
      </Text>
    </>
  )
}

/** What stands in the repertoire as a form, one line a field or entry; and the two questions that it may ask. */
export const EditView = (p: Shown): ReactElement => {
  const { size } = p
  if (kindOf(size) === 'none')
    return <Text wrap="wrap">The window is too small for the form: at least 40 columns and 12 rows.</Text>
  const width = widthOf(size)
  return (
    <Box
      flexDirection="column"
      width={width}
      height={size.rows}
      paddingTop={kindOf(size) === 'full' ? 1 : 0}
      marginLeft={Math.floor((size.cols - width) / 2)}
    >
      {p.state.view === 'form' ? <Fields {...p} /> : <Question {...p} />}
    </Box>
  )
}
