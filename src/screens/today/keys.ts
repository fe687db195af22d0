import { lineAction } from '../line.ts'
import type { Action, View } from './reduce.ts'

/** Key ids of the pedals as set up. */
export type Pedals = { readonly right: string; readonly left: string }

const RIGHT = ['PageDown', 'Right']
const LEFT = ['PageUp', 'Left']

/** The pedal that a key means; in a form the arrows move in the text. */
export const pedalOf = (id: string, view: View, pedals: Pedals): 'right' | 'left' | null => {
  if (id === pedals.right) return 'right'
  if (id === pedals.left) return 'left'
  const arrows = view === 'after' ? 1 : 2
  return RIGHT.slice(0, arrows).includes(id) ? 'right' : LEFT.slice(0, arrows).includes(id) ? 'left' : null
}

/** Right begins what the cursor stands on, left goes to the next line and round; in a form on and back. */
export const pedalAction = (pedal: 'right' | 'left', view: View): Action => {
  if (view === 'after') return { k: pedal === 'right' ? 'submit' : 'back' }
  if (view === 'help') return { k: 'back' }
  return pedal === 'right' ? { k: 'begin' } : { k: 'choose', by: 1, round: true }
}

const CHOOSING: Readonly<Record<string, Action>> = {
  Up: { k: 'choose', by: -1 },
  Down: { k: 'choose', by: 1 },
  Enter: { k: 'begin' },
  s: { k: 'skip' },
  e: { k: 'move', by: -1 },
  l: { k: 'move', by: 1 },
  '+': { k: 'minutes', by: 5 },
  '-': { k: 'minutes', by: -5 },
  p: { k: 'pieces' },
  d: { k: 'pieces' },
  '?': { k: 'help' },
  h: { k: 'help' },
  f: { k: 'leave' },
  q: { k: 'leave' },
}

const WRITING: Readonly<Record<string, Action>> = {
  Enter: { k: 'submit' },
  Escape: { k: 'back' },
  Up: { k: 'field', by: -1 },
  Down: { k: 'field', by: 1 },
  Tab: { k: 'field', by: 1 },
  'S-Tab': { k: 'field', by: -1 },
}

/** What a key that is no pedal does. */
export const actionOf = (id: string, view: View): Action | null => {
  if (id === 'C-c') return { k: 'leave' }
  if (view === 'help') return { k: 'back' }
  if (view === 'day') return CHOOSING[id] ?? null
  const edit = lineAction(id)
  return WRITING[id] ?? (edit && { k: 'edit', edit })
}
