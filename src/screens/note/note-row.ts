import type { NoteRow } from '../../terminal/key-table.ts'
import { NOTE_HELP } from './words.ts'

/** The row of every table of keys that opens a note. */
export const NOTE_ROW: NoteRow = { name: 'note', keys: ['n'], opens: 'note', hint: 'note', help: NOTE_HELP }
