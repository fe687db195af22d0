import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import type { Size } from '../../terminal/screen-writer.ts'
import { FormRows } from '../form/rows.tsx'
import { inRows, kindOf, widthOf } from '../home/layout.ts'
import { Bar, Composed, Note } from '../home/parts.tsx'
import { ANSWERS, QUESTIONS, type State } from './reduce.ts'

export type Shown = { readonly state: State; readonly title: string; readonly size: Size }

/** Rows around the list of fields: title, what is not shown, hint, complaint, note and keys. */
const AROUND = { full: 11, small: 8 }

/** Rows of the form that fit. */
export const rowsThatFit = (size: Size): number =>
  Math.max(1, size.rows - (kindOf(size) === 'small' ? AROUND.small : AROUND.full))

const Fields = ({ state: s, title, size }: Shown): ReactElement => {
  const narrow = kindOf(size) === 'small'
  const last = s.form.at === s.form.rows.length - 1
  return (
    <>
      <Text bold wrap="truncate">{`${narrow ? '' : '   '}${title}`}</Text>
      {narrow ? null : <Text> </Text>}
      <FormRows form={s.form} around={s.around} size={size} room={rowsThatFit(size)} />
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

const Question = ({ state: s, title, size }: Shown): ReactElement => {
  const view = s.view === 'form' ? 'leave' : s.view
  const narrow = kindOf(size) === 'small'
  const margin = narrow ? '' : '   '
  return (
    <>
      <Text bold wrap="truncate">{`${margin}${title}`}</Text>
      <Text> </Text>
      {inRows(QUESTIONS[view](s), widthOf(size) - 6).map((row, i) => (
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
export const EditView = (p: Shown): ReactElement => (
  <Composed size={p.size} what="for the form">
    {p.state.view === 'form' ? <Fields {...p} /> : <Question {...p} />}
  </Composed>
)
