import { type Controls, FEET, type KeyTable, type Pressed, pressed } from '../../terminal/key-table.ts'
import { formRows, HELP_ROW, JOIN_KEY, key, listRows, NOTE_ROW, where } from '../key-rows.ts'
import { lineAction } from '../line.ts'
import type { Action, View } from './reduce.ts'
import { CUTS } from './words.ts'

const CHOICES = ['list', 'sections', 'question']
const FORMS = ['piece', 'quick']

/** What each key does on the screen of the repertoire. */
export const HOME_KEYS: KeyTable<Action> = [
  ...FEET,
  ...where<Action>(CHOICES, [
    ...listRows<Action>('practice; if it has sections, choose one first', {
      take: { kind: 'take' },
      above: { kind: 'choose', by: -1 },
      below: { kind: 'choose', by: 1 },
      number: { kind: 'to', at: 0 },
    }),
    key('the other list', 'd', { kind: 'day' }, 'the day: what to practice, in its order', 'the day'),
    key('new', 'a', { kind: 'new' }, 'adds a new passage, or a new piece', 'add'),
    key(
      'from a score',
      'i',
      { kind: 'import', path: '' },
      'a part from a score; or drop the file into the window',
    ),
    key('change', 'e', { kind: 'change' }, 'changes the chosen passage or section', 'change'),
    key('cut', 'c', { kind: 'askCut' }, 'cuts the chosen passage into sections', 'cut'),
    {
      ...JOIN_KEY,
      does: { kind: 'join' },
      help: 'the seam of two neighbors that are ready, then both as one',
    },
  ]),
  ...where<Action>(
    ['list', 'sections'],
    [
      key(
        'how much it matters',
        'm',
        { kind: 'matters' },
        'how much the passage matters: must, can wait, today, as usual',
      ),
    ],
  ),
  ...where<Action>(CHOICES, [
    NOTE_ROW,
    HELP_ROW,
    key('leave', ['f', 'q'], { kind: 'leave' }, 'leave', 'leave'),
  ]),
  ...where<Action>(
    ['cut'],
    CUTS.map(c => key(`cut by ${c.by}`, c.key, { kind: 'cut', by: c.by })),
  ),
  key('back', 'Escape', { kind: 'back' }),
  ...where<Action>(FORMS, [
    { ...key('take it', 'Enter', { kind: 'submit' }), pedal: 'right' },
    ...formRows<Action>(
      { kind: 'edit', edit: { kind: 'row', by: -1 } },
      { kind: 'edit', edit: { kind: 'row', by: 1 } },
    ),
  ]),
  key('leave the program', 'C-c', { kind: 'leave' }),
]

/** What a pedal says to the choices: this one, or the next one and round again. */
export const pedalAction = (does: 'next' | 'take' | 'wake', pedals: 1 | 2): Action | null => {
  if (does === 'wake') return null
  return does === 'take' ? { kind: 'take' } : { kind: 'choose', by: 1, round: true, ends: pedals === 1 }
}

/** A pedal where something is to be chosen, or what a key does; in a form every character is text. */
export const pressOf = (id: string, view: View, c: Controls): Pressed<Action> | null => {
  const press = pressed(HOME_KEYS, view, id, c, { feet: CHOICES.includes(view) })
  if (press) return press
  const edit = FORMS.includes(view) ? lineAction(id) : null
  const does: Action | null = view === 'cut' ? { kind: 'back' } : edit && { kind: 'edit', edit }
  return does && { kind: 'key', does, id }
}
