import { FEET, type KeyTable } from '../../terminal/key-table.ts'

export type Command =
  | { readonly kind: 'stop' | 'takeBack' | 'store' | 'leave' | 'quit' }
  | { readonly kind: 'louder'; readonly by: 1 | -1 }

const OFFER = ['offer']
const GOING = ['going']
const READY = ['ready']
const MARKED = ['going', 'offer']

/** What each key does in a reading. Enter answers a question like the right pedal. */
export const READING_KEYS: KeyTable<Command> = [
  ...FEET,
  { name: 'the right pedal', keys: ['Enter'], foot: 'right', pedal: 'right' },
  { name: 'yes', keys: ['y'], does: { kind: 'store' }, on: OFFER, hint: 'store them' },
  { name: 'no', keys: ['n', 'Escape'], does: { kind: 'leave' }, on: OFFER, hint: 'leave them' },
  { name: 'take back', keys: ['t'], does: { kind: 'takeBack' }, on: MARKED, hint: 'take the last mark back' },
  { name: 'finish', keys: ['f'], does: { kind: 'stop' }, on: GOING, hint: 'stop here' },
  { name: 'finish', keys: ['f'], does: { kind: 'stop' }, on: READY, hint: 'leave' },
  { name: 'louder', keys: ['+'], does: { kind: 'louder', by: 1 }, hint: 'louder' },
  { name: 'softer', keys: ['-'], does: { kind: 'louder', by: -1 }, hint: 'softer' },
  { name: 'leave the program', keys: ['C-c'], does: { kind: 'quit' } },
]
