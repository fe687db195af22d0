import { lineAction } from '../line.ts'
import type { Action, View } from './reduce.ts'
import { CUTS } from './words.ts'

/** Key ids of the pedals as set up. */
export type Pedals = { readonly right: string; readonly left: string }

const RIGHT = ['PageDown', 'Right']
const LEFT = ['PageUp', 'Left']

/** The pedal that a key means while something is to be chosen, else null. */
export const pedalOf = (id: string, view: View, pedals: Pedals): 'right' | 'left' | null => {
  if (view === 'piece' || view === 'quick' || view === 'cut') return null
  if (id === pedals.right) return 'right'
  if (id === pedals.left) return 'left'
  return RIGHT.includes(id) ? 'right' : LEFT.includes(id) ? 'left' : null
}

/** Right opens what is chosen, left goes to the next line and round. */
export const PEDALS: Readonly<Record<'right' | 'left', Action>> = {
  right: { k: 'take' },
  left: { k: 'choose', by: 1, round: true },
}

const CHOOSING: Readonly<Record<string, Action>> = {
  Up: { k: 'choose', by: -1 },
  Down: { k: 'choose', by: 1 },
  Enter: { k: 'take' },
  n: { k: 'new' },
  c: { k: 'askCut' },
  e: { k: 'change' },
  j: { k: 'join' },
  Escape: { k: 'back' },
  '?': { k: 'help' },
  h: { k: 'help' },
  d: { k: 'day' },
  f: { k: 'leave' },
  q: { k: 'leave' },
}

const WRITING: Readonly<Record<string, Action>> = {
  Enter: { k: 'submit' },
  Escape: { k: 'back' },
  Up: { k: 'edit', edit: { k: 'row', by: -1 } },
  Down: { k: 'edit', edit: { k: 'row', by: 1 } },
  Tab: { k: 'edit', edit: { k: 'row', by: 1 } },
  'S-Tab': { k: 'edit', edit: { k: 'row', by: -1 } },
}

/** What a key that is no pedal does. While something is typed every character is text. */
export const actionOf = (id: string, view: View): Action | null => {
  if (id === 'C-c') return { k: 'leave' }
  if (view === 'help') return { k: 'back' }
  if (view === 'cut') {
    const cut = CUTS.find(c => c.key === id)
    return cut ? { k: 'cut', by: cut.by } : { k: 'back' }
  }
  if (view !== 'piece' && view !== 'quick') return CHOOSING[id] ?? null
  const edit = lineAction(id)
  return WRITING[id] ?? (edit && { k: 'edit', edit })
}
