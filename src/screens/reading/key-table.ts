import { FEET, type KeyTable } from '../../terminal/key-table.ts'
import { HELP_ROW, key, LOUDNESS_ROWS, NOTE_ROW, where } from '../key-rows.ts'

export type Command =
  | { readonly kind: 'stop' | 'takeBack' | 'store' | 'leave' | 'quit' }
  | { readonly kind: 'louder'; readonly by: 1 | -1 }

/** What each key does in a reading. Enter answers a question like the right pedal. */
export const READING_KEYS: KeyTable<Command> = [
  ...FEET,
  { name: 'the right pedal', keys: ['Enter'], foot: 'right', pedal: 'right' },
  ...where<Command>(
    ['offer'],
    [
      key('yes', 'y', { kind: 'store' }, 'at the end: store the sections that are offered', 'store them'),
      key('no', 'Escape', { kind: 'leave' }, 'at the end: leave them', 'leave them'),
    ],
  ),
  {
    ...key('take back', 't', { kind: 'takeBack' }, 'take the last mark back', 'take the last mark back'),
    on: ['going', 'offer'],
  },
  {
    ...key('finish', 'f', { kind: 'stop' }, 'stop here; before the start: leave', 'stop here'),
    on: ['going'],
  },
  { ...key('finish', 'f', { kind: 'stop' }, '', 'leave'), on: ['ready'] },
  ...LOUDNESS_ROWS,
  NOTE_ROW,
  HELP_ROW,
  key('leave the program', 'C-c', { kind: 'quit' }, 'leave the program'),
]
