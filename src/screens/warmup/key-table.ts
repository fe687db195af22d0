import { FEET, type KeyTable } from '../../terminal/key-table.ts'
import type { WarmUpAction } from '../../warm-up/turns.ts'
import { HELP_ROW, NOTE_ROW } from '../key-rows.ts'

export type Command =
  | { readonly kind: 'step'; readonly step: WarmUpAction }
  | { readonly kind: 'louder'; readonly by: 1 | -1 }
  | { readonly kind: 'name' }
  | { readonly kind: 'leave' }
  | { readonly kind: 'quit' }

const TURNS = ['turns']
const NAMING = ['naming']

/** What each key does in a warm-up; while a preset is being named every character is part of the name. */
export const WARM_UP_KEYS: KeyTable<Command> = [
  ...FEET,
  { name: 'the right pedal', keys: ['Enter'], foot: 'right', on: TURNS, pedal: 'right' },
  {
    name: 'wait',
    keys: ['w'],
    does: { kind: 'step', step: 'wait' },
    on: TURNS,
    hint: 'wait',
    help: 'wait, and go on',
  },
  {
    name: 'finish',
    keys: ['f'],
    does: { kind: 'leave' },
    on: TURNS,
    hint: 'finish',
    help: 'finish the warm-up',
  },
  {
    name: 'a rung down',
    keys: ['['],
    does: { kind: 'step', step: 'slower' },
    on: TURNS,
    hint: 'slower',
    help: 'slower, by a mark of the scale',
  },
  {
    name: 'a rung up',
    keys: [']'],
    does: { kind: 'step', step: 'faster' },
    on: TURNS,
    hint: 'faster',
    help: 'faster, by a mark of the scale',
  },
  { name: 'louder', keys: ['+'], does: { kind: 'louder', by: 1 }, on: TURNS, hint: 'louder', help: 'louder' },
  {
    name: 'softer',
    keys: ['-'],
    does: { kind: 'louder', by: -1 },
    on: TURNS,
    hint: 'softer',
    help: 'softer',
  },
  {
    name: 'the tone',
    keys: ['o'],
    does: { kind: 'step', step: 'tone' },
    on: TURNS,
    hint: 'tone',
    help: 'the tone on or off, where an exercise has one',
  },
  {
    name: 'save a preset',
    keys: ['p'],
    does: { kind: 'name' },
    on: TURNS,
    hint: 'save as a preset',
    help: 'save the warm-up as a preset, under a name',
  },
  { ...NOTE_ROW, on: TURNS },
  { ...HELP_ROW, on: TURNS },
  { name: 'take it', keys: ['Enter'], does: { kind: 'name' }, on: NAMING, pedal: 'any', first: true },
  { name: 'back', keys: ['Escape'], does: { kind: 'name' }, on: NAMING },
  { name: 'erase a letter', keys: ['Backspace'], does: { kind: 'name' }, on: NAMING },
  { name: 'leave the program', keys: ['C-c'], does: { kind: 'quit' }, help: 'leave the program' },
]
