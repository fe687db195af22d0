import type { KeyTable } from '../../terminal/key-table.ts'
import { NOTE_ROW } from '../key-rows.ts'
import type { Action } from './choose.ts'

const row = (by: 1 | -1): Action => ({ kind: 'row', by })
const change = (by: 1 | -1): Action => ({ kind: 'change', by })

/** What each key does where the click is chosen by ear. No pedal is listened to. */
export const CHOOSE_KEYS: KeyTable<Action> = [
  { name: 'the line above', keys: ['Up'], pedal: 'any', does: row(-1) },
  { name: 'the line below', keys: ['Down'], pedal: 'any', does: row(1) },
  { name: 'the choice before', keys: ['Left'], pedal: 'any', does: change(-1) },
  { name: 'the next choice', keys: ['Right'], pedal: 'any', does: change(1) },
  { name: 'softer', keys: ['-'], does: change(-1) },
  { name: 'louder', keys: ['+'], does: change(1) },
  { name: 'leave', keys: ['f', 'q'], does: { kind: 'leave' } },
  { name: 'take it', keys: ['Enter'], pedal: 'any', does: { kind: 'leave' } },
  { name: 'back', keys: ['Escape'], does: { kind: 'leave' } },
  NOTE_ROW,
  { name: 'leave the program', keys: ['C-c'], does: { kind: 'leave' } },
]
