import { type Controls, FEET, type KeyTable, type Pressed, pressed } from '../../terminal/key-table.ts'
import type { Key } from '../../terminal/tokenizer.ts'
import { NOTE_ROW } from '../key-rows.ts'
import { lineAction } from '../line.ts'
import { type Action, openOf, type State } from './reduce.ts'

const CHOICE = ['choice']
const CHOOSING = ['choice', 'text']

/** What each key does where a part is chosen; a line that is typed takes every character. */
export const IMPORT_KEYS: KeyTable<Action> = [
  ...FEET.map(f => ({ ...f, keys: f.keys.slice(0, 1) })),
  { name: 'take it', keys: ['Enter'], does: { kind: 'take' }, pedal: 'right' },
  {
    name: 'the line above',
    keys: ['Up', 'S-Tab'],
    pedal: 'any',
    does: { kind: 'row', by: -1 },
    on: CHOOSING,
  },
  {
    name: 'the line below',
    keys: ['Down', 'Tab'],
    pedal: 'any',
    does: { kind: 'row', by: 1 },
    on: CHOOSING,
    label: 'up, down:',
    hint: 'another line',
  },
  {
    name: 'the choice before',
    keys: ['Left'],
    pedal: 'any',
    does: { kind: 'choose', by: -1 },
    on: CHOICE,
  },
  {
    name: 'the next choice',
    keys: ['Right'],
    pedal: 'any',
    does: { kind: 'choose', by: 1 },
    on: CHOICE,
    label: 'left, right:',
    hint: 'another choice',
  },
  {
    name: 'back',
    keys: ['Escape'],
    does: { kind: 'leave' },
    label: 'Escape:',
    hint: 'leave',
  },
  { ...NOTE_ROW, on: CHOICE },
  { name: 'leave the program', keys: ['C-c'], does: { kind: 'quit' } },
]

/** A press of a pedal, or what a key does. */
export const pressOf = (s: State, key: Key, c: Controls): Pressed<Action> | null => {
  if (key.text !== undefined) return { kind: 'key', does: { kind: 'paste', text: key.text }, id: key.id }
  const on = openOf(s)
  const press = pressed(IMPORT_KEYS, on, key.id, c, { text: on !== 'choice' })
  if (press) return press
  const edit = on === 'choice' ? null : lineAction(key.id)
  return edit && { kind: 'key', does: { kind: 'edit', edit }, id: key.id }
}
