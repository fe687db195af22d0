import type { KeyTable } from '../terminal/key-table.ts'

/** What leads through a list and takes a line of it: the same keys on every list. `take` = what Enter does there. */
export const choosingRows = <A>(
  on: readonly string[],
  take: { readonly does: A; readonly help: string },
  to: { readonly above: A; readonly below: A; readonly number: A },
): KeyTable<A> => [
  { name: 'take it', keys: ['Enter'], on, pedal: 'right', ...take },
  { name: 'the line above', keys: ['Up'], pedal: 'any', does: to.above, on },
  {
    name: 'the line below',
    keys: ['Down'],
    pedal: 'any',
    does: to.below,
    on,
    help: 'choose; so does the up arrow',
  },
  {
    name: 'a line by its number',
    keys: [...'0123456789'],
    label: '0-9',
    does: to.number,
    on,
    help: 'the line with this number (12: 1, then 2); then Enter',
  },
]
