import { FEET, type KeyTable } from '../../terminal/key-table.ts'
import { NOTE_ROW } from '../key-rows.ts'

/** In a rest: on to what comes next, back to the day, or leave the program. */
export type RestLeft = 'on' | 'left' | 'quit'

export const REST_KEYS: KeyTable<RestLeft> = [
  ...FEET,
  { name: 'go on', keys: ['Enter'], does: 'on', pedal: 'any' },
  NOTE_ROW,
  { name: 'leave', keys: ['f', 'q', 'Escape'], does: 'left' },
  { name: 'leave the program', keys: ['C-c'], does: 'quit' },
]
