import { newWalk } from '../../src/screens/choosing.ts'
import { type Controls, USUAL_KEYS } from '../../src/terminal/key-table.ts'

export const TWO: Controls = { right: 'PageDown', left: 'PageUp', pedals: 2, choice: USUAL_KEYS }
export const ONE: Controls = { ...TWO, pedals: 1 }

/** A screen just opened, with two pedals. */
export const opened = { controls: TWO, walk: newWalk(2, 0), now: 0 }
