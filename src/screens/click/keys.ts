import type { Action, State } from './reduce.ts'
import { tapped } from './reduce.ts'

/** Key ids of the two pedals as set up. */
export type Pedals = { readonly right: string; readonly left: string }

export type Command =
  | { readonly k: 'pedal'; readonly pedal: 'right' | 'left' }
  | { readonly k: 'act'; readonly action: Action }
  | { readonly k: 'louder'; readonly by: 1 | -1 }

const RIGHT = ['PageDown', 'Right', 'Enter']
const LEFT = ['PageUp', 'Left']

const act = (action: Action): Command => ({ k: 'act', action })

const FIXED: Readonly<Record<string, Command>> = {
  Up: act({ k: 'mark', by: 1 }),
  ']': act({ k: 'mark', by: 1 }),
  Down: act({ k: 'mark', by: -1 }),
  '[': act({ k: 'mark', by: -1 }),
  m: act({ k: 'meter' }),
  s: act({ k: 'subdivide' }),
  Backspace: act({ k: 'erase' }),
  Escape: act({ k: 'escape' }),
  '+': { k: 'louder', by: 1 },
  '-': { k: 'louder', by: -1 },
  f: act({ k: 'leave' }),
  q: act({ k: 'leave' }),
  'C-c': act({ k: 'leave' }),
}

/** What a key at a time (monotonic ms) does, with the pedals as set up. */
export const commandOf = (id: string, at: number, pedals: Pedals, s: State): Command | null => {
  if (id === 'Enter' && (s.typing !== '' || tapped(s))) return act({ k: 'enter' })
  if (id === pedals.right) return { k: 'pedal', pedal: 'right' }
  if (id === pedals.left) return { k: 'pedal', pedal: 'left' }
  if (/^[0-9.]$/.test(id)) return act({ k: 'digit', text: id })
  if (id === 't') return act({ k: 'tap', at })
  if (RIGHT.includes(id)) return { k: 'pedal', pedal: 'right' }
  if (LEFT.includes(id)) return { k: 'pedal', pedal: 'left' }
  return FIXED[id] ?? null
}
