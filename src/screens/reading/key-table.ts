import { FEET, type KeyTable } from '../../terminal/key-table.ts'
import { HELP_ROW, NOTE_ROW } from '../key-rows.ts'

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
  {
    name: 'yes',
    keys: ['y'],
    does: { kind: 'store' },
    on: OFFER,
    hint: 'store them',
    help: 'at the end: store the sections that are offered',
  },
  {
    name: 'no',
    keys: ['Escape'],
    does: { kind: 'leave' },
    on: OFFER,
    hint: 'leave them',
    help: 'at the end: leave them',
  },
  {
    name: 'take back',
    keys: ['t'],
    does: { kind: 'takeBack' },
    on: MARKED,
    hint: 'take the last mark back',
    help: 'take the last mark back',
  },
  {
    name: 'finish',
    keys: ['f'],
    does: { kind: 'stop' },
    on: GOING,
    hint: 'stop here',
    help: 'stop here; before the start: leave',
  },
  { name: 'finish', keys: ['f'], does: { kind: 'stop' }, on: READY, hint: 'leave' },
  { name: 'louder', keys: ['+'], does: { kind: 'louder', by: 1 }, hint: 'louder', help: 'louder' },
  { name: 'softer', keys: ['-'], does: { kind: 'louder', by: -1 }, hint: 'softer', help: 'softer' },
  NOTE_ROW,
  HELP_ROW,
  { name: 'leave the program', keys: ['C-c'], does: { kind: 'quit' }, help: 'leave the program' },
]
