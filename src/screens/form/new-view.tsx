import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import type { Size } from '../../terminal/screen-writer.ts'
import { kindOf, widthOf } from '../home/layout.ts'
import { Note } from '../home/parts.tsx'
import type { State } from '../home/reduce.ts'
import { formTitle } from '../home/words.ts'
import type { Form } from './form.ts'
import { FormRows } from './rows.tsx'

/** The form of a new passage, or of a quick ladder. */
export const NewView = (p: { state: State; form: Form; size: Size }): ReactElement => {
  const { state: s, form, size } = p
  const narrow = kindOf(size) === 'small'
  const last = form.at === form.rows.length - 1
  const enter = !last ? 'next line' : s.view === 'quick' ? 'to the ladder' : 'store it'
  const several = form.rows.length > 1 ? '   up, down: another line' : ''
  return (
    <>
      <Text bold>{`${narrow ? '' : '   '}${formTitle(s.view === 'quick', s.rows.length > 0)}`}</Text>
      {narrow ? null : <Text> </Text>}
      <FormRows form={form} around={s.around} size={size} room={narrow ? size.rows - 7 : form.rows.length} />
      <Box flexGrow={1} />
      <Note text={s.busy ? 'Storing ...' : s.note} width={widthOf(size)} />
      <Text wrap="truncate">
        {narrow
          ? `Enter: ${enter}  Escape: back`
          : `   Enter: ${enter}${several}   Escape: back, nothing is lost`}
      </Text>
    </>
  )
}
