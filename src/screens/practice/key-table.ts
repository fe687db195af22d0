import type { TakeKind } from '../../ladder/key.ts'
import { FEET, type KeyRow, type KeyTable } from '../../terminal/key-table.ts'
import type { Action as VisitAction } from '../../visit/session.ts'
import { HELP_ROW, JOIN_KEY, NOTE_ROW } from '../key-rows.ts'

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

const TYPING: readonly Open[] = ['typing']
const LADDER: readonly Open[] = ['ladder']
const APART: readonly Open[] = ['apart']

type PracticeKey = KeyRow<Command>
const next = (
  name: string,
  key: string,
  what: 'round' | TakeKind,
  help: string,
  more: Partial<PracticeKey> = {},
): PracticeKey => ({
  name,
  keys: [key],
  does: { kind: 'next', what },
  help,
  ...more,
})
const wrong = (index: number, name: string, key: string): PracticeKey => ({
  name: `${name} went wrong`,
  keys: [key],
  does: { kind: 'wrong', index },
  help: `after a slip: the ${name} went wrong; the same again takes it back`,
})

/** Capitals, so that no tempo that is typed is taken for them: the notes, the rhythm, breath or bow, the sound. */
export const WRONG_ROWS: readonly PracticeKey[] = [
  wrong(0, 'notes', 'N'),
  wrong(1, 'rhythm', 'R'),
  wrong(2, 'breath or bow', 'B'),
  wrong(3, 'sound', 'S'),
]

/** The chapters of the help. */
export const OFTEN_KEYS: KeyTable<Command> = [
  {
    name: 'take back',
    keys: ['t'],
    does: { kind: 'visit', action: { kind: 'takeBack' } },
    hint: 'take back',
    help: 'take back the latest verdict',
  },
  {
    name: 'wait',
    keys: ['w'],
    does: { kind: 'visit', action: { kind: 'wait' } },
    hint: 'wait',
    help: 'wait, and go on',
  },
  { name: 'finish', keys: ['f'], does: { kind: 'finish' }, on: APART, hint: 'leave this' },
  {
    name: 'finish',
    keys: ['f'],
    does: { kind: 'finish' },
    hint: 'finish',
    help: 'finish; in a take: leave it',
  },
  {
    name: 'a rung down',
    keys: ['['],
    does: { kind: 'visit', action: { kind: 'nextRung', by: -1 } },
    hint: 'down',
    help: 'one rung down',
  },
  {
    name: 'a rung up',
    keys: [']'],
    does: { kind: 'visit', action: { kind: 'nextRung', by: 1 } },
    hint: 'up',
    help: 'one rung up',
  },
  {
    name: 'a tempo by hand',
    keys: [...'0123456789.'],
    label: '0-9',
    does: { kind: 'digit' },
    hint: 'tempo',
    help: 'any tempo up to the goal, then Enter',
  },
  ...WRONG_ROWS,
  { name: 'louder', keys: ['+'], does: { kind: 'louder', by: 1 }, help: 'louder' },
  { name: 'softer', keys: ['-'], does: { kind: 'louder', by: -1 }, help: 'softer' },
  {
    name: 'only the pedals',
    keys: ['k'],
    does: { kind: 'lock' },
    help: 'only the pedals: other keys do nothing until open is typed',
  },
  NOTE_ROW,
  { ...HELP_ROW, on: [...LADDER, ...APART, ...TYPING] },
  {
    name: 'leave the program',
    keys: ['C-c'],
    does: { kind: 'quit' },
    help: 'leave the program; what you confirmed is stored',
  },
]

export const BESIDE_KEYS: KeyTable<Command> = [
  {
    name: 'listen',
    keys: ['l'],
    does: { kind: 'visit', action: { kind: 'listen' } },
    help: 'listen to the goal once: its click, nothing is counted',
  },
  next('rhythms', 'r', 'round', 'a round of altered rhythms at this rung, then even again', {
    hint: 'rhythms',
    on: [...LADDER, ...TYPING],
  }),
  next('a cold take', 'c', 'cold', 'before the first repetition of a day: a cold take, once'),
  next('a try at the goal', 'g', 'goal', 'a try at the goal'),
  next('one beat at the goal', 'b', 'beat', 'one beat at the goal'),
  next('a silent repetition', 's', 'silent', 'a repetition without a sound'),
  next(
    'a cold take at the other end',
    'C',
    'cold',
    'where the goal is a range: a cold take at its other end',
    {
      does: { kind: 'next', what: 'cold', other: true },
    },
  ),
  next('a try at the upper end', 'G', 'goal', 'where the goal is a range: a try at its upper end', {
    does: { kind: 'next', what: 'goal', other: true },
  }),
  {
    ...JOIN_KEY,
    does: { kind: 'join' },
    help: 'the seam with a neighbor, then both as one, when both are ready',
  },
  { name: 'yes', keys: ['y'], does: { kind: 'yes' }, help: 'yes: the section or the breath that is offered' },
]

/** What each key does on the practice screen. */
export const PRACTICE_KEYS: KeyTable<Command> = [
  { name: 'take it', keys: ['Enter'], does: { kind: 'enter' }, on: TYPING, first: true, pedal: 'any' },
  { name: 'back', keys: ['Escape'], does: { kind: 'drop' }, on: TYPING, first: true },
  { name: 'erase a letter', keys: ['Backspace'], does: { kind: 'erase' }, on: TYPING, first: true },
  ...FEET,
  { name: 'the right pedal', keys: ['Enter'], foot: 'right', pedal: 'right' },
  ...OFTEN_KEYS,
  ...BESIDE_KEYS,
]
