import type { KeyTable } from '../../terminal/key-table.ts'
import { NOTE_ROW } from '../key-rows.ts'

/** While pedals are learned every key may be one; after that a note has its key here too. */
export const SETUP_KEYS: KeyTable<never> = [{ ...NOTE_ROW, on: ['plays', 'try'] }]
