import { type Controls, FEET, type KeyTable, pressed } from '../../terminal/key-table.ts'
import type { Pedal } from '../../terminal/lock.ts'
import { choosingRows } from '../choosing.ts'
import { HELP_ROW, NOTE_ROW } from '../key-rows.ts'
import { lineAction } from '../line.ts'
import { type Action, isClosed, menuOf, type State, type View } from './reduce.ts'

const DAY = ['day']
const FORM = ['after']
const CHOOSING = ['day', 'days', 'ways', 'close']

/** What each key does on the screen of the day. */
export const DAY_KEYS: KeyTable<Action> = [
  ...FEET,
  ...choosingRows<Action>(
    CHOOSING,
    { does: { kind: 'begin' }, help: 'begin what the line says' },
    { above: { kind: 'choose', by: -1 }, below: { kind: 'choose', by: 1 }, number: { kind: 'to', at: 0 } },
  ),
  {
    name: 'skip',
    keys: ['s'],
    does: { kind: 'skip' },
    on: DAY,
    hint: 'skip',
    help: 'skip this line; again: bring it back',
  },
  {
    name: 'earlier',
    keys: ['e'],
    does: { kind: 'move', by: -1 },
    on: DAY,
    hint: 'earlier',
    help: 'this line earlier',
  },
  {
    name: 'later',
    keys: ['l'],
    does: { kind: 'move', by: 1 },
    on: DAY,
    hint: 'later',
    help: 'this line later',
  },
  {
    name: 'more',
    keys: ['+'],
    does: { kind: 'minutes', by: 5 },
    on: DAY,
    help: 'five minutes more for this day',
  },
  { name: 'less', keys: ['-'], does: { kind: 'minutes', by: -5 }, on: DAY, help: 'five minutes less' },
  {
    name: 'how much it matters',
    keys: ['m'],
    does: { kind: 'matters' },
    on: DAY,
    hint: 'matters',
    help: 'this passage: must, as usual, can wait, or today',
  },
  {
    name: 'too much',
    keys: ['o'],
    does: { kind: 'ways' },
    on: DAY,
    help: 'when it is too much: choose what gives',
  },
  {
    name: 'a light last evening',
    keys: ['v'],
    does: { kind: 'light' },
    on: DAY,
    help: 'make the last evening before a date light, or as usual',
  },
  {
    name: 'the other list',
    keys: ['p', 'd'],
    does: { kind: 'pieces' },
    on: DAY,
    hint: 'pieces',
    help: 'your pieces; d there comes back to the day',
  },
  { ...NOTE_ROW, on: ['day', 'close'] },
  { ...HELP_ROW, on: DAY },
  { name: 'leave', keys: ['f', 'q'], does: { kind: 'leave' }, on: DAY, hint: 'leave', help: 'leave' },
  { name: 'take it', keys: ['Enter'], does: { kind: 'submit' }, on: FORM, pedal: 'right', first: true },
  { name: 'back', keys: ['Escape'], does: { kind: 'back' }, on: [...FORM, 'days', 'ways', 'close'] },
  { name: 'the line above', keys: ['Up', 'S-Tab'], pedal: 'any', does: { kind: 'field', by: -1 }, on: FORM },
  { name: 'the line below', keys: ['Down', 'Tab'], pedal: 'any', does: { kind: 'field', by: 1 }, on: FORM },
  { name: 'leave the program', keys: ['C-c'], does: { kind: 'leave' } },
]

/** In a rest: on to what comes next, back to the day, or leave the program. */
export type RestLeft = 'on' | 'left' | 'quit'

export const REST_KEYS: KeyTable<RestLeft> = [
  ...FEET,
  { name: 'go on', keys: ['Enter'], does: 'on', pedal: 'any' },
  NOTE_ROW,
  { name: 'leave', keys: ['f', 'q', 'Escape'], does: 'left' },
  { name: 'leave the program', keys: ['C-c'], does: 'quit' },
]

/** What a pedal does: right begins what the cursor stands on, left goes to the next line and round; in a form on and back. */
export const pedalAction = (
  pedal: Pedal,
  s: State,
  does: 'next' | 'take' | 'wake',
  pedals: 1 | 2,
): Action | null => {
  // One pedal leaves the form: what is typed there is typed by hand.
  if (s.view === 'after') return { kind: pedal === 'right' && pedals === 2 ? 'submit' : 'back' }
  if (pedals === 1 && does === 'take' && isClosed(s) && !menuOf(s)) return { kind: 'leave' }
  if (does === 'wake') return null
  return does === 'take' ? { kind: 'begin' } : { kind: 'choose', by: 1, round: true, ends: pedals === 1 }
}

/** A pedal, or what a key does; in a form every character is text, and arrows move in it. */
export const pressOf = (
  id: string,
  view: View,
  c: Controls,
): { readonly pedal: Pedal } | { readonly action: Action } | null => {
  const edit = view === 'after' ? lineAction(id) : null
  const own = id === c.right || id === c.left
  if (edit && !own) return { action: { kind: 'edit', edit } }
  const press = pressed(DAY_KEYS, view, id, c, { text: view === 'after' })
  if (press?.kind === 'pedal') return { pedal: press.pedal }
  if (press)
    return { action: press.does.kind === 'to' ? { kind: 'to', at: Number(press.id) - 1 } : press.does }
  return edit && { action: { kind: 'edit', edit } }
}
