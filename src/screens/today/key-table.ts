import { type Controls, FEET, type KeyTable, pressed } from '../../terminal/key-table.ts'
import type { Pedal } from '../../terminal/lock.ts'
import { choosingRows } from '../choosing-rows.ts'
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
    { does: { k: 'begin' }, help: 'begin what the line says' },
    { above: { k: 'choose', by: -1 }, below: { k: 'choose', by: 1 }, number: { k: 'to', at: 0 } },
  ),
  {
    name: 'skip',
    keys: ['s'],
    does: { k: 'skip' },
    on: DAY,
    hint: 'skip',
    help: 'skip this line; again: bring it back',
  },
  {
    name: 'earlier',
    keys: ['e'],
    does: { k: 'move', by: -1 },
    on: DAY,
    hint: 'earlier',
    help: 'this line earlier',
  },
  { name: 'later', keys: ['l'], does: { k: 'move', by: 1 }, on: DAY, hint: 'later', help: 'this line later' },
  {
    name: 'more',
    keys: ['+'],
    does: { k: 'minutes', by: 5 },
    on: DAY,
    help: 'five minutes more for this day',
  },
  { name: 'less', keys: ['-'], does: { k: 'minutes', by: -5 }, on: DAY, help: 'five minutes less' },
  {
    name: 'how much it matters',
    keys: ['m'],
    does: { k: 'matters' },
    on: DAY,
    hint: 'matters',
    help: 'this passage: must, as usual, can wait, or today',
  },
  {
    name: 'too much',
    keys: ['o'],
    does: { k: 'ways' },
    on: DAY,
    help: 'when it is too much: choose what gives',
  },
  {
    name: 'a light last evening',
    keys: ['v'],
    does: { k: 'light' },
    on: DAY,
    help: 'make make the last evening before a date light, or as usual',
  },
  {
    name: 'the other list',
    keys: ['p', 'd'],
    does: { k: 'pieces' },
    on: DAY,
    hint: 'pieces',
    help: 'your pieces; d there comes back to the day',
  },
  { name: 'help', keys: ['?', 'h'], does: { k: 'help' }, on: DAY, hint: 'help' },
  { name: 'leave', keys: ['f', 'q'], does: { k: 'leave' }, on: DAY, hint: 'leave', help: 'leave' },
  { name: 'take it', keys: ['Enter'], does: { k: 'submit' }, on: FORM, pedal: 'right', first: true },
  { name: 'back', keys: ['Escape'], does: { k: 'back' }, on: [...FORM, 'days', 'ways', 'close'] },
  { name: 'the line above', keys: ['Up', 'S-Tab'], pedal: 'any', does: { k: 'field', by: -1 }, on: FORM },
  { name: 'the line below', keys: ['Down', 'Tab'], pedal: 'any', does: { k: 'field', by: 1 }, on: FORM },
  { name: 'leave the program', keys: ['C-c'], does: { k: 'leave' } },
]

/** What a pedal does: right begins what the cursor stands on, left goes to the next line and round; in a form on and back. */
export const pedalAction = (
  pedal: Pedal,
  s: State,
  does: 'next' | 'take' | 'wake',
  pedals: 1 | 2,
): Action | null => {
  // One pedal leaves the form: what is typed there is typed by hand.
  if (s.view === 'after') return { k: pedal === 'right' && pedals === 2 ? 'submit' : 'back' }
  if (s.view === 'help') return { k: 'back' }
  if (pedals === 1 && does === 'take' && isClosed(s) && !menuOf(s)) return { k: 'leave' }
  if (does === 'wake') return null
  return does === 'take' ? { k: 'begin' } : { k: 'choose', by: 1, round: true, ends: pedals === 1 }
}

/** A pedal, or what a key does; in a form every character is text, and arrows move in it. */
export const pressOf = (
  id: string,
  view: View,
  c: Controls,
): { readonly pedal: Pedal } | { readonly action: Action } | null => {
  const edit = view === 'after' ? lineAction(id) : null
  const own = id === c.right || id === c.left
  if (edit && !own) return { action: { k: 'edit', edit } }
  const press = pressed(DAY_KEYS, view, id, c, { text: view === 'after' })
  if (press?.kind === 'pedal') return { pedal: press.pedal }
  if (press) return { action: press.does.k === 'to' ? { k: 'to', at: Number(press.id) - 1 } : press.does }
  if (edit) return { action: { k: 'edit', edit } }
  return view === 'help' ? { action: { k: 'back' } } : null
}
