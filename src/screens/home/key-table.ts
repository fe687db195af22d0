import { type Controls, FEET, type KeyTable, pressed } from '../../terminal/key-table.ts'
import type { Pedal } from '../../terminal/lock.ts'
import { choosingRows } from '../choosing.ts'
import { HELP_ROW, JOIN_KEY, NOTE_ROW } from '../key-rows.ts'
import { lineAction } from '../line.ts'
import type { Action, View } from './reduce.ts'
import { CUTS } from './words.ts'

const CHOICES = ['list', 'sections', 'question']
const FORMS = ['piece', 'quick']

/** What each key does on the screen of the repertoire. */
export const HOME_KEYS: KeyTable<Action> = [
  ...FEET,
  ...choosingRows<Action>(
    CHOICES,
    { does: { kind: 'take' }, help: 'practice; if it has sections, choose one first' },
    { above: { kind: 'choose', by: -1 }, below: { kind: 'choose', by: 1 }, number: { kind: 'to', at: 0 } },
  ),
  {
    name: 'the other list',
    keys: ['d'],
    does: { kind: 'day' },
    on: CHOICES,
    hint: 'the day',
    help: 'the day: what to practice, in its order',
  },
  {
    name: 'new',
    keys: ['a'],
    does: { kind: 'new' },
    on: CHOICES,
    hint: 'add',
    help: 'adds a new passage, or a new piece',
  },
  {
    name: 'from a score',
    keys: ['i'],
    does: { kind: 'import', path: '' },
    on: CHOICES,
    help: 'a part from a score; or drop the file into the window',
  },
  {
    name: 'change',
    keys: ['e'],
    does: { kind: 'change' },
    on: CHOICES,
    hint: 'change',
    help: 'changes the chosen passage or section',
  },
  {
    name: 'cut',
    keys: ['c'],
    does: { kind: 'askCut' },
    on: CHOICES,
    hint: 'cut',
    help: 'cuts the chosen passage into sections',
  },
  {
    ...JOIN_KEY,
    does: { kind: 'join' },
    on: CHOICES,
    help: 'the seam of two neighbors that are ready, then both as one',
  },
  {
    name: 'how much it matters',
    keys: ['m'],
    does: { kind: 'matters' },
    on: ['list', 'sections'],
    help: 'how much the passage matters: must, can wait, today, as usual',
  },
  { ...NOTE_ROW, on: CHOICES },
  { ...HELP_ROW, on: CHOICES },
  { name: 'leave', keys: ['f', 'q'], does: { kind: 'leave' }, on: CHOICES, hint: 'leave', help: 'leave' },
  ...CUTS.map(c => ({
    name: `cut by ${c.by}`,
    keys: [c.key],
    does: { kind: 'cut', by: c.by } as const,
    on: ['cut'],
  })),
  { name: 'back', keys: ['Escape'], does: { kind: 'back' } },
  { name: 'take it', keys: ['Enter'], does: { kind: 'submit' }, on: FORMS, pedal: 'right' },
  {
    name: 'the line above',
    keys: ['Up', 'S-Tab'],
    pedal: 'any',
    does: { kind: 'edit', edit: { kind: 'row', by: -1 } },
    on: FORMS,
  },
  {
    name: 'the line below',
    keys: ['Down', 'Tab'],
    pedal: 'any',
    does: { kind: 'edit', edit: { kind: 'row', by: 1 } },
    on: FORMS,
  },
  { name: 'leave the program', keys: ['C-c'], does: { kind: 'leave' } },
]

/** What a pedal says to the choices: this one, or the next one and round again. */
export const pedalAction = (does: 'next' | 'take' | 'wake', pedals: 1 | 2): Action | null =>
  does === 'wake'
    ? null
    : does === 'take'
      ? { kind: 'take' }
      : { kind: 'choose', by: 1, round: true, ends: pedals === 1 }

/** A pedal where something is to be chosen, or what a key does; in a form every character is text. */
export const pressOf = (
  id: string,
  view: View,
  c: Controls,
): { readonly pedal: Pedal } | { readonly action: Action } | null => {
  const press = pressed(HOME_KEYS, view, id, c, { feet: CHOICES.includes(view) })
  if (press?.kind === 'pedal') return { pedal: press.pedal }
  if (press)
    return { action: press.does.kind === 'to' ? { kind: 'to', at: Number(press.id) - 1 } : press.does }
  if (view === 'cut') return { action: { kind: 'back' } }
  const edit = FORMS.includes(view) ? lineAction(id) : null
  return edit && { action: { kind: 'edit', edit } }
}
