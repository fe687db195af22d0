import { lineAction } from '../line.ts'
import type { Action, View } from './reduce.ts'

const WRITING: Readonly<Record<string, Action>> = {
  Enter: { k: 'next' },
  'C-s': { k: 'submit' },
  Escape: { k: 'back' },
  Up: { k: 'edit', edit: { k: 'row', by: -1 } },
  Down: { k: 'edit', edit: { k: 'row', by: 1 } },
  Tab: { k: 'edit', edit: { k: 'row', by: 1 } },
  'S-Tab': { k: 'edit', edit: { k: 'row', by: -1 } },
  PageUp: { k: 'page', by: -1 },
  PageDown: { k: 'page', by: 1 },
}

const CHOOSING: Readonly<Record<string, Action>> = {
  Enter: { k: 'take' },
  Escape: { k: 'back' },
  Up: { k: 'choose', by: -1 },
  Down: { k: 'choose', by: 1 },
}

/** What a key does. In the form every character is text. */
export const actionOf = (id: string, view: View): Action | null => {
  if (id === 'C-c') return { k: 'leave' }
  if (view !== 'form') return CHOOSING[id] ?? null
  const edit = lineAction(id)
  return WRITING[id] ?? (edit && { k: 'edit', edit })
}
