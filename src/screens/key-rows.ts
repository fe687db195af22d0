import type { OpenRow } from '../terminal/key-table.ts'
import { NOTE_HELP } from './note/words.ts'

/** The keys that open a note and the help, on every screen. */
export const NOTE_ROW: OpenRow = { name: 'note', keys: ['n'], opens: 'note', hint: 'note', help: NOTE_HELP }
export const HELP_ROW: OpenRow = {
  name: 'help',
  keys: ['?', 'h'],
  opens: 'help',
  hint: 'help',
  help: 'this help',
}

/** What joins two neighbors, on the list and beside the ladder. */
export const JOIN_KEY = { name: 'join', keys: ['j'] } as const
