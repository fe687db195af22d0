import { type Controls, type KeyTable, pressed } from '../../terminal/key-table.ts'
import { NOTE_ROW } from '../key-rows.ts'
import { lineAction } from '../line.ts'
import type { Action, View } from './reduce.ts'

const FORM = ['form']
const QUESTIONS = ['leave', 'history']

/** What each key does in the form of a piece, a passage or a section. No pedal is listened to: it is typed by hand. */
export const EDIT_KEYS: KeyTable<Action> = [
  { name: 'take it', keys: ['Enter'], does: { kind: 'next' }, on: FORM, pedal: 'any' },
  { name: 'store', keys: ['C-s'], does: { kind: 'submit' }, on: FORM },
  { name: 'back', keys: ['Escape'], does: { kind: 'back' } },
  {
    name: 'the line above',
    keys: ['Up', 'S-Tab'],
    pedal: 'any',
    does: { kind: 'edit', edit: { kind: 'row', by: -1 } },
    on: FORM,
  },
  {
    name: 'the line below',
    keys: ['Down', 'Tab'],
    pedal: 'any',
    does: { kind: 'edit', edit: { kind: 'row', by: 1 } },
    on: FORM,
  },
  { name: 'the page above', keys: ['PageUp'], does: { kind: 'page', by: -1 }, on: FORM, pedal: 'any' },
  { name: 'the page below', keys: ['PageDown'], does: { kind: 'page', by: 1 }, on: FORM, pedal: 'any' },
  { name: 'take it', keys: ['Enter'], does: { kind: 'take' }, on: QUESTIONS, pedal: 'any' },
  { name: 'the line above', keys: ['Up'], pedal: 'any', does: { kind: 'choose', by: -1 }, on: QUESTIONS },
  { name: 'the line below', keys: ['Down'], pedal: 'any', does: { kind: 'choose', by: 1 }, on: QUESTIONS },
  { ...NOTE_ROW, on: QUESTIONS },
  { name: 'leave the program', keys: ['C-c'], does: { kind: 'leave' } },
]

/** What a key does. In the form every character is text. */
export const actionOf = (id: string, view: View, c: Controls): Action | null => {
  const press = pressed(EDIT_KEYS, view, id, c, { feet: false })
  if (press?.kind === 'key') return press.does
  const edit = view === 'form' ? lineAction(id) : null
  return edit && { kind: 'edit', edit }
}
