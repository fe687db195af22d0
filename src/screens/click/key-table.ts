import { FEET, type KeyTable } from '../../terminal/key-table.ts'
import { HELP_ROW, NOTE_ROW } from '../key-rows.ts'
import type { Action } from './reduce.ts'

export type Command =
  | { readonly kind: 'act'; readonly action: Action }
  | { readonly kind: 'digit' }
  | { readonly kind: 'tap' }
  | { readonly kind: 'louder'; readonly by: 1 | -1 }

/** `entering`: a tempo is being typed or was tapped. */
const ENTERING = ['entering']
const act = (action: Action): Command => ({ kind: 'act', action })

/** What each key does at the click. */
export const CLICK_KEYS: KeyTable<Command> = [
  {
    name: 'take it',
    keys: ['Enter'],
    does: act({ kind: 'enter' }),
    on: ENTERING,
    first: true,
    pedal: 'any',
    help: 'take the tempo that was typed or tapped',
  },
  ...FEET,
  { name: 'the right pedal', keys: ['Enter'], foot: 'right', pedal: 'right' },
  {
    name: 'a rung down',
    keys: ['['],
    does: act({ kind: 'mark', by: -1 }),
    hint: 'mark down',
    help: 'the next mark of the scale down',
  },
  { name: 'the line below', keys: ['Down'], does: act({ kind: 'mark', by: -1 }), pedal: 'any' },
  {
    name: 'a rung up',
    keys: [']'],
    does: act({ kind: 'mark', by: 1 }),
    hint: 'mark up',
    help: 'the next mark of the scale up',
  },
  { name: 'the line above', keys: ['Up'], does: act({ kind: 'mark', by: 1 }), pedal: 'any' },
  {
    name: 'a tempo by hand',
    keys: [...'0123456789.'],
    label: '0-9',
    does: { kind: 'digit' },
    hint: 'tempo',
    help: 'any tempo, then Enter',
  },
  {
    name: 'tap a tempo',
    keys: ['t'],
    does: { kind: 'tap' },
    hint: 'tap a tempo',
    help: 'tap a tempo, at least three times, then Enter',
  },
  { name: 'another meter', keys: ['m'], does: act({ kind: 'meter' }), hint: 'meter', help: 'the next meter' },
  {
    name: 'subdivide',
    keys: ['s'],
    does: act({ kind: 'subdivide' }),
    hint: 'subdivide',
    help: 'one to four clicks a beat',
  },
  { name: 'erase a letter', keys: ['Backspace'], does: act({ kind: 'erase' }) },
  {
    name: 'back',
    keys: ['Escape'],
    does: act({ kind: 'escape' }),
    help: 'leave the tempo that was typed or tapped',
  },
  { name: 'louder', keys: ['+'], does: { kind: 'louder', by: 1 }, hint: 'louder', help: 'louder' },
  { name: 'softer', keys: ['-'], does: { kind: 'louder', by: -1 }, hint: 'softer', help: 'softer' },
  { name: 'leave', keys: ['f', 'q'], does: act({ kind: 'leave' }), hint: 'leave', help: 'leave the click' },
  NOTE_ROW,
  HELP_ROW,
  { name: 'leave the program', keys: ['C-c'], does: act({ kind: 'leave' }), help: 'leave the program' },
]
