import { type Controls, FEET, type KeyTable, type Pressed, pressed } from '../../terminal/key-table.ts'
import type { Key } from '../../terminal/tokenizer.ts'
import { key, NOTE_ROW, where } from '../key-rows.ts'
import { lineAction } from '../line.ts'
import { type Action, openOf, type State } from './reduce.ts'

/** What each key does where a part is chosen; a line that is typed takes every character. */
export const IMPORT_KEYS: KeyTable<Action> = [
  ...FEET.map(f => ({ ...f, keys: f.keys.slice(0, 1) })),
  { ...key('take it', 'Enter', { kind: 'take' }), pedal: 'right' },
  ...where<Action>(
    ['choice', 'text'],
    [
      { ...key('the line above', ['Up', 'S-Tab'], { kind: 'row', by: -1 }), pedal: 'any' },
      {
        ...key('the line below', ['Down', 'Tab'], { kind: 'row', by: 1 }, '', 'another line'),
        pedal: 'any',
        label: 'up, down:',
      },
    ],
  ),
  ...where<Action>(
    ['choice'],
    [
      { ...key('the choice before', 'Left', { kind: 'choose', by: -1 }), pedal: 'any' },
      {
        ...key('the next choice', 'Right', { kind: 'choose', by: 1 }, '', 'another choice'),
        pedal: 'any',
        label: 'left, right:',
      },
    ],
  ),
  { ...key('back', 'Escape', { kind: 'leave' }, '', 'leave'), label: 'Escape:' },
  { ...NOTE_ROW, on: ['choice'] },
  key('leave the program', 'C-c', { kind: 'quit' }),
]

/** A press of a pedal, or what a key does. */
export const pressOf = (s: State, { id, text }: Key, c: Controls): Pressed<Action> | null => {
  if (text !== undefined) return { kind: 'key', does: { kind: 'paste', text }, id }
  const typing = openOf(s) !== 'choice'
  const press = pressed(IMPORT_KEYS, openOf(s), id, c, { text: typing })
  const edit = typing && !press ? lineAction(id) : null
  return press ?? (edit && { kind: 'key', does: { kind: 'edit', edit }, id })
}
