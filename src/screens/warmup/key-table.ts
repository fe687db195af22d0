import { FEET, type KeyTable } from '../../terminal/key-table.ts'
import type { WarmUpAction } from '../../warm-up/turns.ts'
import { HELP_ROW, key, LOUDNESS_ROWS, NOTE_ROW, where } from '../key-rows.ts'

export type Command =
  | { readonly kind: 'step'; readonly step: WarmUpAction }
  | { readonly kind: 'louder'; readonly by: 1 | -1 }
  | { readonly kind: 'name' | 'leave' | 'quit' }

/** What each key does in a warm-up; while a preset is being named every character is part of the name. */
export const WARM_UP_KEYS: KeyTable<Command> = [
  ...FEET,
  ...where<Command>(
    ['turns'],
    [
      { name: 'the right pedal', keys: ['Enter'], foot: 'right', pedal: 'right' },
      key('wait', 'w', { kind: 'step', step: 'wait' }, 'wait, and go on', 'wait'),
      key('finish', 'f', { kind: 'leave' }, 'finish the warm-up', 'finish'),
      key('a rung down', '[', { kind: 'step', step: 'slower' }, 'slower, by a mark of the scale', 'slower'),
      key('a rung up', ']', { kind: 'step', step: 'faster' }, 'faster, by a mark of the scale', 'faster'),
      ...LOUDNESS_ROWS,
      key(
        'the tone',
        'o',
        { kind: 'step', step: 'tone' },
        'the tone on or off, where an exercise has one',
        'tone',
      ),
      key(
        'save a preset',
        'p',
        { kind: 'name' },
        'save the warm-up as a preset, under a name',
        'save as a preset',
      ),
      NOTE_ROW,
      HELP_ROW,
    ],
  ),
  ...where<Command>(
    ['naming'],
    [
      { ...key('take it', 'Enter', { kind: 'name' }), pedal: 'any', first: true },
      key('back', 'Escape', { kind: 'name' }),
      key('erase a letter', 'Backspace', { kind: 'name' }),
    ],
  ),
  key('leave the program', 'C-c', { kind: 'quit' }, 'leave the program'),
]
