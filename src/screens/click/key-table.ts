import { FEET, type KeyTable } from '../../terminal/key-table.ts'
import { HELP_ROW, key, LOUDNESS_ROWS, NOTE_ROW } from '../key-rows.ts'
import type { Action } from './reduce.ts'

/** What a key asks for: an action; a digit or a tap, of which the screen knows more; another loudness. */
export type Command =
  | Exclude<Action, { kind: 'digit' | 'tap' }>
  | { readonly kind: 'digit' }
  | { readonly kind: 'tap' }
  | { readonly kind: 'louder'; readonly by: 1 | -1 }

/** What each key does at the click. `entering`: a tempo is being typed or was tapped. */
export const CLICK_KEYS: KeyTable<Command> = [
  {
    ...key('take it', 'Enter', { kind: 'enter' }, 'take the tempo that was typed or tapped'),
    on: ['entering'],
    first: true,
    pedal: 'any',
  },
  ...FEET,
  { name: 'the right pedal', keys: ['Enter'], foot: 'right', pedal: 'right' },
  key('a rung down', '[', { kind: 'mark', by: -1 }, 'the next mark of the scale down', 'mark down'),
  { ...key('the line below', 'Down', { kind: 'mark', by: -1 }), pedal: 'any' },
  key('a rung up', ']', { kind: 'mark', by: 1 }, 'the next mark of the scale up', 'mark up'),
  { ...key('the line above', 'Up', { kind: 'mark', by: 1 }), pedal: 'any' },
  {
    ...key('a tempo by hand', [...'0123456789.'], { kind: 'digit' }, 'any tempo, then Enter', 'tempo'),
    label: '0-9',
  },
  key('tap a tempo', 't', { kind: 'tap' }, 'tap a tempo, at least three times, then Enter', 'tap a tempo'),
  key('another meter', 'm', { kind: 'meter' }, 'the next meter', 'meter'),
  key('subdivide', 's', { kind: 'subdivide' }, 'one to four clicks a beat', 'subdivide'),
  key('erase a letter', 'Backspace', { kind: 'erase' }),
  key('back', 'Escape', { kind: 'escape' }, 'leave the tempo that was typed or tapped'),
  ...LOUDNESS_ROWS,
  key('leave', ['f', 'q'], { kind: 'leave' }, 'leave the click', 'leave'),
  NOTE_ROW,
  HELP_ROW,
  key('leave the program', 'C-c', { kind: 'leave' }, 'leave the program'),
]
