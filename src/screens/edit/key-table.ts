import { type Controls, type KeyTable, pressed } from '../../terminal/key-table.ts'
import { lineAction } from '../line.ts'
import type { Action, View } from './reduce.ts'

const FORM = ['form']
const QUESTIONS = ['leave', 'history']

/** What each key does in the form of a piece, a passage or a section. No pedal is listened to: it is typed by hand. */
export const EDIT_KEYS: KeyTable<Action> = [
  { name: 'take it', keys: ['Enter'], does: { k: 'next' }, on: FORM, pedal: 'any' },
  { name: 'store', keys: ['C-s'], does: { k: 'submit' }, on: FORM },
  { name: 'back', keys: ['Escape'], does: { k: 'back' } },
  {
    name: 'the line above',
    keys: ['Up', 'S-Tab'],
    pedal: 'any',
    does: { k: 'edit', edit: { k: 'row', by: -1 } },
    on: FORM,
  },
  {
    name: 'the line below',
    keys: ['Down', 'Tab'],
    pedal: 'any',
    does: { k: 'edit', edit: { k: 'row', by: 1 } },
    on: FORM,
  },
  { name: 'the page above', keys: ['PageUp'], does: { k: 'page', by: -1 }, on: FORM, pedal: 'any' },
  { name: 'the page below', keys: ['PageDown'], does: { k: 'page', by: 1 }, on: FORM, pedal: 'any' },
  { name: 'take it', keys: ['Enter'], does: { k: 'take' }, on: QUESTIONS, pedal: 'any' },
  { name: 'the line above', keys: ['Up'], pedal: 'any', does: { k: 'choose', by: -1 }, on: QUESTIONS },
  { name: 'the line below', keys: ['Down'], pedal: 'any', does: { k: 'choose', by: 1 }, on: QUESTIONS },
  { name: 'leave the program', keys: ['C-c'], does: { k: 'leave' } },
]

/** What a key does. In the form every character is text. */
export const actionOf = (id: string, view: View, c: Controls): Action | null => {
  const press = pressed(EDIT_KEYS, view, id, c, { feet: false })
  if (press?.kind === 'key') return press.does
  const edit = view === 'form' ? lineAction(id) : null
  return edit && { k: 'edit', edit }
}
