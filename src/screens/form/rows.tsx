import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import type { Size } from '../../terminal/screen-writer.ts'
import { theme } from '../../terminal/theme.ts'
import { inRows, kindOf, widthOf, windowOf } from '../home/layout.ts'
import { Bar } from '../home/parts.tsx'
import { notShown } from '../home/words.ts'
import { lineShown } from '../line.ts'
import { type Around, type Form, hintOf, labelOf, understood, type Wrong, wrong } from './form.ts'

/** Columns of the labels, and of what is said beside the texts in a window of 80; a wider one gives the rest to the texts. */
const LABEL = 13
const BESIDE = 36
const BAR = 3

type Shown = { readonly form: Form; readonly around: Around; readonly size: Size }

const Field = (p: Shown & { index: number; bad: Wrong | null }): ReactElement => {
  const { form, index, size } = p
  const row = form.rows[index]
  const on = index === form.at
  const narrow = kindOf(size) === 'small'
  const text = widthOf(size) - BAR - LABEL - (narrow ? 0 : BESIDE)
  const [before, mark, after] = lineShown(row?.text ?? '', on ? form.cursor : null, text - 1)
  const changed = form.piece && row !== undefined && row.text.trim() !== row.was
  // A new place brings its number of measures, unless that is typed too.
  const follows =
    form.piece && row?.key === 'count' && form.rows.some(r => r.key === 'measures' && r.text.trim() !== r.was)
  const told = changed
    ? [understood(form, index, p.around), `before: ${row.was || 'none'}`].filter(Boolean).join(', ')
    : follows
      ? 'as the place says'
      : form.piece && !row?.list
        ? ''
        : understood(form, index, p.around)
  const bad = p.bad?.row === index
  return (
    <Box height={1} flexShrink={0}>
      <Bar on={on} />
      <Box width={LABEL} flexShrink={0}>
        <Text bold={on} wrap="truncate">
          {labelOf(form, index)}
        </Text>
      </Box>
      <Box width={text} flexShrink={0}>
        <Text wrap="truncate">
          {before}
          <Text bold color={theme.mark}>
            {mark}
          </Text>
          {after}
          {narrow && bad ? ' look again' : ''}
        </Text>
      </Box>
      {narrow ? null : (
        <Text wrap="truncate" color={bad ? theme.bad : theme.soft}>
          {bad ? 'look again' : told}
        </Text>
      )}
    </Box>
  )
}

/** The lines of a form that fit into so many rows; below them what is not shown, a hint, and what is wrong. */
export const FormRows = (p: Shown & { readonly room: number }): ReactElement => {
  const { form, around, size, room } = p
  const { from, to } = windowOf(form.rows.length, form.at, room)
  const bad = wrong(form, around)
  const margin = kindOf(size) === 'small' ? '' : '   '
  const below = (text: string, color: string) =>
    inRows(text, widthOf(size) - 2 * margin.length).map((row, i) => (
      <Text key={i} color={color} wrap="truncate">
        {margin + row}
      </Text>
    ))
  return (
    <>
      {form.rows.slice(from, to).map((_, i) => (
        <Field key={from + i} {...p} index={from + i} bad={bad} />
      ))}
      <Text color={theme.soft}>{`${margin}${notShown(from, form.rows.length - to)}`}</Text>
      {below(hintOf(form), theme.soft)}
      {below(bad?.says ?? '', theme.bad)}
    </>
  )
}
