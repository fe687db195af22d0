import type { TakeKind } from '../../ladder/key.ts'
import { noteValueName } from '../../music/note-value.ts'
import { sentence } from '../../music/result.ts'
import { parseTempo } from '../../music/tempo.ts'
import type { Action } from '../../visit/session.ts'
import { rungOf, type Session } from '../../visit/session.ts'
import type { Left } from './left.ts'
import type { KeyNames } from './words.ts'

/** What a key does on the practice screen. */
export type Command =
  | { readonly k: 'pedal'; readonly pedal: 'right' | 'left' }
  | { readonly k: 'act'; readonly action: Action }
  | { readonly k: 'digit'; readonly text: string }
  | { readonly k: 'take' | 'leave' | 'erase' | 'help' | 'finish' | 'quit' | 'lock' | 'join' | 'yes' }
  /** Something else that comes next, and the visit again afterwards. */
  | { readonly k: 'next'; readonly what: 'round' | TakeKind; readonly other?: true }
  | { readonly k: 'louder'; readonly by: 1 | -1 }

const RIGHT = ['PageDown', 'Right', 'Enter']
const LEFT = ['PageUp', 'Left']

const FIXED: Readonly<Record<string, Command>> = {
  t: { k: 'act', action: { k: 'takeBack' } },
  w: { k: 'act', action: { k: 'wait' } },
  f: { k: 'finish' },
  l: { k: 'act', action: { k: 'listen' } },
  r: { k: 'next', what: 'round' },
  c: { k: 'next', what: 'cold' },
  C: { k: 'next', what: 'cold', other: true },
  g: { k: 'next', what: 'goal' },
  G: { k: 'next', what: 'goal', other: true },
  b: { k: 'next', what: 'beat' },
  s: { k: 'next', what: 'silent' },
  j: { k: 'join' },
  y: { k: 'yes' },
  ']': { k: 'act', action: { k: 'nextRung', by: 1 } },
  '[': { k: 'act', action: { k: 'nextRung', by: -1 } },
  k: { k: 'lock' },
  h: { k: 'help' },
  '?': { k: 'help' },
  '+': { k: 'louder', by: 1 },
  '-': { k: 'louder', by: -1 },
  'C-c': { k: 'quit' },
}

/** Keys that already mean something on a screen with pedals, and what: they can't become a pedal. */
export const TAKEN_KEYS: Readonly<Record<string, string>> = {
  t: 'take back',
  w: 'wait',
  f: 'finish',
  r: 'a round of rhythms',
  c: 'a cold take',
  C: 'a cold take at the other end of the goal',
  g: 'a try at the goal',
  G: 'a try at the upper end of the goal',
  b: 'one beat at the goal',
  s: 'a repetition without a sound',
  l: 'listening to the goal',
  j: 'joining with a neighbor',
  ']': 'one rung up',
  '[': 'one rung down',
  k: 'only the pedals',
  h: 'help',
  '?': 'help',
  '+': 'louder',
  '-': 'softer',
  m: 'another meter',
  o: 'the tone',
  q: 'leaving',
  y: 'yes',
  n: 'no',
  d: 'the day',
  p: 'saving a preset',
  Up: 'the line above',
  Down: 'the line below',
  Tab: 'the next line',
  Backspace: 'taking back a letter',
  ...Object.fromEntries([...'0123456789.'].map(d => [d, 'a tempo by hand'])),
}

/** The command of a key id, with the pedals as set up; `typing` = a tempo is being typed. */
export const commandOf = (id: string, pedals: KeyNames, typing: boolean): Command | null => {
  if (typing && id === 'Enter') return { k: 'take' }
  if (typing && id === 'Escape') return { k: 'leave' }
  if (typing && id === 'Backspace') return { k: 'erase' }
  if (id === pedals.right) return { k: 'pedal', pedal: 'right' }
  if (id === pedals.left) return { k: 'pedal', pedal: 'left' }
  if (/^[0-9.]$/.test(id)) return { k: 'digit', text: id }
  if (RIGHT.includes(id)) return { k: 'pedal', pedal: 'right' }
  if (LEFT.includes(id)) return { k: 'pedal', pedal: 'left' }
  return FIXED[id] ?? null
}

/** Before the first repetition: most likely a pedal that was not learned. Later a sheet on the keyboard would say it. */
export const UNKNOWN_KEY = 'That key does nothing here. If it is a pedal: gradino setup learns it.'

/** A tempo typed by hand, in the note value of the ladder; or the sentence that says why not. */
export const byHand = (s: Session, typed: string): Action => {
  const unit = s.ladder.rungs[0]?.unit
  const read = parseTempo(unit ? `${noteValueName(unit)}=${typed}` : typed, 'tempo by hand')
  return read.ok ? { k: 'tempo', to: read.value } : { k: 'refuse', text: sentence(read.problem) }
}

/** What comes next at the press of a key, or null where it can't: a cold take only before the first repetition of a day. */
export const nextOf = (
  s: Session,
  { what, other }: Command & { k: 'next' },
  coldIsOpen: boolean,
): Left['next'] | null =>
  s.setup.rhythm !== null || s.setup.ends || (what === 'cold' && !(coldIsOpen && s.phase === 'ready'))
    ? null
    : { k: what, rung: rungOf(s.ladder), ...(other ? { other } : {}) }
