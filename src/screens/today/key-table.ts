import { type Controls, FEET, type KeyTable, type Pressed, pressed } from '../../terminal/key-table.ts'
import type { Pedal } from '../../terminal/lock.ts'
import { formRows, HELP_ROW, key, listRows, NOTE_ROW, where } from '../key-rows.ts'
import { lineAction } from '../line.ts'
import { type Action, isClosed, menuOf, type State, type View } from './reduce.ts'

const DAY = ['day']
const LISTS = ['days', 'ways', 'close']

/** What each key does on the screen of the day. */
export const DAY_KEYS: KeyTable<Action> = [
  ...FEET,
  ...where(
    [...DAY, ...LISTS],
    listRows<Action>('begin what the line says', {
      take: { kind: 'begin' },
      above: { kind: 'choose', by: -1 },
      below: { kind: 'choose', by: 1 },
      number: { kind: 'to', at: 0 },
    }),
  ),
  ...where<Action>(DAY, [
    key('skip', 's', { kind: 'skip' }, 'skip this line; again: bring it back', 'skip'),
    key('earlier', 'e', { kind: 'move', by: -1 }, 'this line earlier', 'earlier'),
    key('later', 'l', { kind: 'move', by: 1 }, 'this line later', 'later'),
    key('more', '+', { kind: 'minutes', by: 5 }, 'five minutes more for this day'),
    key('less', '-', { kind: 'minutes', by: -5 }, 'five minutes less'),
    key(
      'how much it matters',
      'm',
      { kind: 'matters' },
      'this passage: must, as usual, can wait, or today',
      'matters',
    ),
    key('too much', 'o', { kind: 'ways' }, 'when it is too much: choose what gives'),
    key(
      'a light last evening',
      'v',
      { kind: 'light' },
      'make the last evening before a date light, or as usual',
    ),
    key(
      'the other list',
      ['p', 'd'],
      { kind: 'pieces' },
      'your pieces; d there comes back to the day',
      'pieces',
    ),
  ]),
  { ...NOTE_ROW, on: ['day', 'close'] },
  ...where<Action>(DAY, [HELP_ROW, key('leave', ['f', 'q'], { kind: 'leave' }, 'leave', 'leave')]),
  ...where<Action>(
    ['after'],
    [
      { ...key('take it', 'Enter', { kind: 'submit' }), pedal: 'right', first: true },
      ...formRows<Action>({ kind: 'field', by: -1 }, { kind: 'field', by: 1 }),
    ],
  ),
  { ...key('back', 'Escape', { kind: 'back' }), on: ['after', ...LISTS] },
  key('leave the program', 'C-c', { kind: 'leave' }),
]

/** In a rest: on to what comes next, back to the day, or leave the program. */
export type RestLeft = 'on' | 'left' | 'quit'

export const REST_KEYS: KeyTable<RestLeft> = [
  ...FEET,
  { ...key('go on', 'Enter', 'on'), pedal: 'any' },
  NOTE_ROW,
  key('leave', ['f', 'q', 'Escape'], 'left'),
  key('leave the program', 'C-c', 'quit'),
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
export const pressOf = (id: string, view: View, c: Controls): Pressed<Action> | null => {
  const edit = view === 'after' ? lineAction(id) : null
  const typed = edit && ({ kind: 'key', does: { kind: 'edit', edit }, id } as const)
  if (typed && id !== c.right && id !== c.left) return typed
  return pressed(DAY_KEYS, view, id, c, { text: view === 'after' }) ?? typed
}
