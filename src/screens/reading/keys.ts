import type { Action, Phase } from './reduce.ts'

/** Key ids of the two pedals as set up. */
export type Pedals = { readonly right: string; readonly left: string }

export type Command =
  | { readonly k: 'pedal'; readonly pedal: 'right' | 'left' }
  | { readonly k: 'act'; readonly action: Action }
  | { readonly k: 'louder'; readonly by: 1 | -1 }

const RIGHT = ['PageDown', 'Right', 'Enter']
const LEFT = ['PageUp', 'Left']

const act = (k: 'stop' | 'takeBack' | 'store' | 'leave' | 'quit'): Command => ({ k: 'act', action: { k } })

const FIXED: Readonly<Record<string, Command>> = {
  t: act('takeBack'),
  f: act('stop'),
  '+': { k: 'louder', by: 1 },
  '-': { k: 'louder', by: -1 },
  'C-c': act('quit'),
}

const ANSWERS: Readonly<Record<string, Command>> = { y: act('store'), n: act('leave'), Escape: act('leave') }

/** What a key does, with the pedals as set up. Enter answers a question like the right pedal. */
export const commandOf = (id: string, pedals: Pedals, phase: Phase): Command | null => {
  if (id === pedals.right) return { k: 'pedal', pedal: 'right' }
  if (id === pedals.left) return { k: 'pedal', pedal: 'left' }
  if (phase === 'offer' && ANSWERS[id]) return ANSWERS[id]
  if (RIGHT.includes(id)) return { k: 'pedal', pedal: 'right' }
  if (LEFT.includes(id)) return { k: 'pedal', pedal: 'left' }
  return FIXED[id] ?? null
}
