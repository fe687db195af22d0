import type { TakeKind } from '../../ladder/key.ts'
import { FEET, type KeyRow, type KeyTable } from '../../terminal/key-table.ts'
import type { Action as VisitAction } from '../../visit/session.ts'
import { HELP_ROW, JOIN_KEY, key, NOTE_ROW, where } from '../key-rows.ts'

/** What a key does on the practice screen. */
export type Command =
  | { readonly kind: 'visit'; readonly action: VisitAction }
  | { readonly kind: 'digit' }
  | {
      readonly kind: 'enter' | 'drop' | 'erase' | 'finish' | 'quit' | 'lock' | 'join' | 'yes'
    }
  /** Something else that comes next, and the visit again afterwards. */
  | { readonly kind: 'next'; readonly what: 'round' | TakeKind; readonly other?: true }
  | { readonly kind: 'louder'; readonly by: 1 | -1 }
  /** After a slip: which of the things that can go wrong. */
  | { readonly kind: 'wrong'; readonly index: number }

/** What lies open: the ladder, what is played apart from it, a tempo that is being typed, the closing view. */
export type Open = 'ladder' | 'apart' | 'typing' | 'closing'

const wrong = (index: number, name: string, letter: string): KeyRow<Command> =>
  key(
    `${name} went wrong`,
    letter,
    { kind: 'wrong', index },
    `after a slip: the ${name} went wrong; the same again takes it back`,
  )

/** Capitals, so that no tempo that is typed is taken for them: the notes, the rhythm, breath or bow, the sound. */
export const WRONG_ROWS: readonly KeyRow<Command>[] = [
  wrong(0, 'notes', 'N'),
  wrong(1, 'rhythm', 'R'),
  wrong(2, 'breath or bow', 'B'),
  wrong(3, 'sound', 'S'),
]

const visit = (action: VisitAction): Command => ({ kind: 'visit', action })
const next = (what: 'round' | TakeKind): Command => ({ kind: 'next', what })

/** The chapters of the help. */
export const OFTEN_KEYS: KeyTable<Command> = [
  key('take back', 't', visit({ kind: 'takeBack' }), 'take back the latest verdict', 'take back'),
  key('wait', 'w', visit({ kind: 'wait' }), 'wait, and go on', 'wait'),
  { ...key('finish', 'f', { kind: 'finish' }, '', 'leave this'), on: ['apart'] },
  key('finish', 'f', { kind: 'finish' }, 'finish; in a take: leave it', 'finish'),
  key('a rung down', '[', visit({ kind: 'nextRung', by: -1 }), 'one rung down', 'down'),
  key('a rung up', ']', visit({ kind: 'nextRung', by: 1 }), 'one rung up', 'up'),
  {
    ...key(
      'a tempo by hand',
      [...'0123456789.'],
      { kind: 'digit' },
      'any tempo up to the goal, then Enter',
      'tempo',
    ),
    label: '0-9',
  },
  ...WRONG_ROWS,
  key('louder', '+', { kind: 'louder', by: 1 }, 'louder'),
  key('softer', '-', { kind: 'louder', by: -1 }, 'softer'),
  key('only the pedals', 'k', { kind: 'lock' }, 'only the pedals: other keys do nothing until open is typed'),
  NOTE_ROW,
  { ...HELP_ROW, on: ['ladder', 'apart', 'typing'] },
  key('leave the program', 'C-c', { kind: 'quit' }, 'leave the program; what you confirmed is stored'),
]
export const BESIDE_KEYS: KeyTable<Command> = [
  key('listen', 'l', visit({ kind: 'listen' }), 'listen to the goal once: its click, nothing is counted'),
  {
    ...key(
      'rhythms',
      'r',
      next('round'),
      'a round of altered rhythms at this rung, then even again',
      'rhythms',
    ),
    on: ['ladder', 'typing'],
  },
  key('a cold take', 'c', next('cold'), 'before the first repetition of a day: a cold take, once'),
  key('a try at the goal', 'g', next('goal'), 'a try at the goal'),
  key('one beat at the goal', 'b', next('beat'), 'one beat at the goal'),
  key('a silent repetition', 's', next('silent'), 'a repetition without a sound'),
  key(
    'a cold take at the other end',
    'C',
    { kind: 'next', what: 'cold', other: true },
    'where the goal is a range: a cold take at its other end',
  ),
  key(
    'a try at the upper end',
    'G',
    { kind: 'next', what: 'goal', other: true },
    'where the goal is a range: a try at its upper end',
  ),
  {
    ...JOIN_KEY,
    does: { kind: 'join' },
    help: 'the seam with a neighbor, then both as one, when both are ready',
  },
  key('yes', 'y', { kind: 'yes' }, 'yes: the section or the breath that is offered'),
]

/** What each key does on the practice screen. */
export const PRACTICE_KEYS: KeyTable<Command> = [
  ...where<Command>(
    ['typing'],
    [
      { ...key('take it', 'Enter', { kind: 'enter' }), first: true, pedal: 'any' },
      { ...key('back', 'Escape', { kind: 'drop' }), first: true },
      { ...key('erase a letter', 'Backspace', { kind: 'erase' }), first: true },
    ],
  ),
  ...FEET,
  { name: 'the right pedal', keys: ['Enter'], foot: 'right', pedal: 'right' },
  ...OFTEN_KEYS,
  ...BESIDE_KEYS,
]
