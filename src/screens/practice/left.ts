import type { TakeKind } from '../../ladder/key.ts'
import type { Tempo } from '../../music/tempo.ts'
import { fastAfter } from '../../visit/fast.ts'
import type { Conductor, Held } from './conduct.ts'

/** How the player left: the program (Ctrl+C), the visit by hand (`f`), or for something else that comes next. */
export type Left = {
  readonly quit: boolean
  readonly left: boolean
  readonly next?: { readonly kind: 'round' | 'join' | TakeKind; readonly rung: Tempo; readonly other?: true }
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
