import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { lineShown } from '../line.ts'
import { theme } from '../theme.ts'
import { type Form, fieldOf, hintOf, LABELS, textOf, understood, wrong } from './form.ts'
import { inRows, kindOf, type Size, widthOf, windowOf } from './layout.ts'
import { Bar, Note } from './parts.tsx'
import type { State } from './reduce.ts'

const LABEL = 12
const TEXT = 32

const titleOf = (s: State): string =>
  s.view === 'quick'
    ? 'A quick ladder: to which tempo?'
    : s.rows.length > 0
      ? 'A new passage'
      : 'A first piece'

const FieldRow = (p: { s: State; form: Form; index: number; narrow: boolean }): ReactElement => {
  const { s, form } = p
  const field = form.fields[p.index] ?? fieldOf(form)
  const on = p.index === form.at
  const bad = wrong(form, field, s.around) !== null
  const [before, mark, after] = lineShown(textOf(form, field), on ? form.cursor : null, p.narrow ? 26 : TEXT)
  return (
    <Box>
      <Bar on={on} />
      <Box width={p.narrow ? 9 : LABEL} flexShrink={0}>
        <Text bold={on}>{LABELS[field]}</Text>
      </Box>
      <Box width={p.narrow ? 28 : TEXT + 2} flexShrink={0}>
        <Text wrap="truncate">
          {before}
          <Text bold color={theme.mark}>
            {mark}
          </Text>
          {after}
          {p.narrow && bad ? ' look again' : ''}
        </Text>
      </Box>
      {p.narrow ? null : (
        <Text wrap="truncate" color={bad ? theme.bad : theme.soft}>
          {bad ? 'look again' : understood(form, field, s.around)}
        </Text>
      )}
    </Box>
  )
}

/** The sentence to be read now: of the field in hand if something is wrong with it, else of the first wrong one. */
const complaint = (s: State, form: Form): string | null =>
  [fieldOf(form), ...form.fields].map(f => wrong(form, f, s.around)).find(w => w !== null) ?? null

export const FormView = (p: { state: State; form: Form; size: Size }): ReactElement => {
  const { state: s, form, size } = p
  const narrow = kindOf(size) === 'small'
  const room = narrow ? size.rows - 7 : form.fields.length
  const { from, to } = windowOf(form.fields.length, form.at, room)
  const several = form.fields.length > 1
  const last = form.at === form.fields.length - 1
  const enter = !last ? 'next field' : s.view === 'quick' ? 'to the ladder' : 'store it'
  const margin = narrow ? '' : '   '
  const bad = complaint(s, form)
  const rows = (text: string): readonly string[] =>
    inRows(text, widthOf(size) - 2 * margin.length).map(row => margin + row)
  return (
    <>
      <Text bold>{`${margin}${titleOf(s)}`}</Text>
      {narrow ? null : <Text> </Text>}
      {form.fields.slice(from, to).map((field, i) => (
        <FieldRow key={field} s={s} form={form} index={from + i} narrow={narrow} />
      ))}
      <Text> </Text>
      {rows(hintOf(fieldOf(form), s.around)).map((row, i) => (
        <Text key={`hint ${i}`} color={theme.soft}>
          {row}
        </Text>
      ))}
      {rows(bad ?? '').map((row, i) => (
        <Text key={`bad ${i}`} color={theme.bad}>
          {row}
        </Text>
      ))}
      <Box flexGrow={1} />
      <Note text={s.busy ? 'Storing ...' : s.note} width={widthOf(size)} />
      <Text wrap="truncate">
        {narrow
          ? `Enter: ${enter}  Escape: back`
          : `   Enter: ${enter}${several ? '   up, down: another field' : ''}   Escape: back, nothing is lost`}
      </Text>
    </>
  )
}
