import type { KeyRow, KeyTable, OpenRow } from '../terminal/key-table.ts'
import { NOTE_HELP } from './note/words.ts'

/** A row of a table of keys: its name, its key or keys, what they do, its line in the help, its word in the row of hints. */
export const key = <C>(
  name: string,
  keys: string | readonly string[],
  does: C,
  help = '',
  hint = '',
): KeyRow<C> => ({
  name,
  keys: typeof keys === 'string' ? [keys] : keys,
  does,
  ...(help === '' ? {} : { help }),
  ...(hint === '' ? {} : { hint }),
})

/** Rows that count where one of these lies open. */
export const where = <C>(on: readonly string[], rows: KeyTable<C>): KeyTable<C> =>
  rows.map(r => ({ ...r, on }))

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

export const LOUDNESS_ROWS: KeyTable<{ readonly kind: 'louder'; readonly by: 1 | -1 }> = [
  key('louder', '+', { kind: 'louder', by: 1 }, 'louder', 'louder'),
  key('softer', '-', { kind: 'louder', by: -1 }, 'softer', 'softer'),
]

/** From line to line of a form. */
export const formRows = <C>(above: C, below: C): KeyTable<C> => [
  { ...key('the line above', ['Up', 'S-Tab'], above), pedal: 'any' },
  { ...key('the line below', ['Down', 'Tab'], below), pedal: 'any' },
]

/** What leads through a list and takes a line of it: the same keys on every list. */
export const listRows = <C>(
  takes: string,
  to: Readonly<Record<'take' | 'above' | 'below' | 'number', C>>,
): KeyTable<C> => [
  { ...key('take it', 'Enter', to.take, takes), pedal: 'right' },
  { ...key('the line above', 'Up', to.above), pedal: 'any' },
  { ...key('the line below', 'Down', to.below, 'choose; so does the up arrow'), pedal: 'any' },
  {
    ...key(
      'a line by its number',
      [...'0123456789'],
      to.number,
      'the line with this number (12: 1, then 2); then Enter',
    ),
    label: '0-9',
  },
]
