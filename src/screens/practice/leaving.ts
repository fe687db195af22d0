import type { Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { fastAfter } from '../../visit/fast.ts'
import { indented, inTheMiddle, READ } from '../page.ts'
import { inPhrases, inRows } from '../text-rows.ts'
import { joined } from '../words.ts'
import type { Conductor, Held } from './conduct.ts'
import type { Next } from './offers.ts'
import { joinsAtEnd, noteOrClose, stored } from './words.ts'

/** How the player left: the program (Ctrl+C), the visit by hand (`f`), or for something else that comes next. */
export type Left = {
  readonly quit: boolean
  readonly left: boolean
  readonly next?: Next
  /** The visit, so that it can go on where it was. */
  readonly held: Held
  readonly lines: readonly string[]
}

export type How = Omit<Left, 'lines' | 'held'>

/** A visit that ended by itself after the slow ones goes on with the fast one. */
export const howLeft = (how: How, c: Conductor): How => {
  const next = how.quit || how.left || how.next ? null : fastAfter(c.session())
  return next ? { ...how, next } : how
}

const afterIt = (p: Closing): string => {
  if (p.lines.length === 0) return ''
  const keys = p.joins === '' || p.locked ? '' : joinsAtEnd(p.joins)
  if (p.choice !== '' || keys !== '') return stored(joined([p.choice, keys], '   '))
  if (p.locked) return stored('A pedal closes.')
  return stored(p.note === '' ? 'Any key closes.' : noteOrClose(p.note))
}

type Closing = {
  readonly lines: readonly string[]
  readonly locked: boolean
  /** The key that joins, where something can be joined now; empty where none does. */
  readonly joins: string
  /** What one pedal can choose now; empty where any key closes. */
  readonly choice: string
  /** The key that opens a note; empty where there is none. */
  readonly note: string
  readonly size: Size
}

/** Three sentences and nothing else. */
export const closingSheet = (p: Closing): Sheet => {
  const width = Math.min(READ, p.size.cols)
  const said = [...p.lines.flatMap(line => inRows(line, width)), '', ...inPhrases(afterIt(p), width)]
  return inTheMiddle(indented(said, {}, 0), p.size)
}
