import { type Controls, type KeyTable, pressed } from '../../terminal/key-table.ts'
import { formRows, key, NOTE_ROW, where } from '../key-rows.ts'
import { lineAction } from '../line.ts'
import type { Action, View } from './reduce.ts'

/** What each key does in the form of a piece, a passage or a section. No pedal is listened to: it is typed by hand. */
export const EDIT_KEYS: KeyTable<Action> = [
  ...where<Action>(
    ['form'],
    [
      { ...key('take it', 'Enter', { kind: 'next' }), pedal: 'any' },
      key('store', 'C-s', { kind: 'submit' }),
      ...formRows<Action>(
        { kind: 'edit', edit: { kind: 'row', by: -1 } },
        { kind: 'edit', edit: { kind: 'row', by: 1 } },
      ),
      { ...key('the page above', 'PageUp', { kind: 'page', by: -1 }), pedal: 'any' },
      { ...key('the page below', 'PageDown', { kind: 'page', by: 1 }), pedal: 'any' },
    ],
  ),
  ...where<Action>(
    ['leave', 'history'],
    [
      { ...key('take it', 'Enter', { kind: 'take' }), pedal: 'any' },
      { ...key('the line above', 'Up', { kind: 'choose', by: -1 }), pedal: 'any' },
      { ...key('the line below', 'Down', { kind: 'choose', by: 1 }), pedal: 'any' },
      NOTE_ROW,
    ],
  ),
  key('back', 'Escape', { kind: 'back' }),
  key('leave the program', 'C-c', { kind: 'leave' }),
]

/** What a key does. In the form every character is text. */
export const actionOf = (id: string, view: View, c: Controls): Action | null => {
  const press = pressed(EDIT_KEYS, view, id, c, { feet: false })
  if (press?.kind === 'key') return press.does
  const edit = view === 'form' ? lineAction(id) : null
  return edit && { kind: 'edit', edit }
}
