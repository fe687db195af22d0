import { randomBytes } from 'node:crypto'
import type { Chance } from '../repertoire/names.ts'

/** Where the store gets time and chance from; the one clock of the program stands behind it. */
export type Sources = {
  /** Wall clock, milliseconds since 1970 UTC. */
  readonly wall: () => number
  /** Minutes east of UTC at this moment. */
  readonly offset: () => number
  readonly chance: Chance
}

/** Sixty random bits: five sessions a day for a lifetime do not meet. */
export const chance: Chance = () => randomBytes(8).toString('hex').slice(0, 15)
