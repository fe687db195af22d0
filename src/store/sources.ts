import { randomBytes } from 'node:crypto'

/** Where the store gets time and chance from; the one clock of the program stands behind it. */
export type Sources = {
  /** Wall clock, milliseconds since 1970 UTC. */
  readonly wall: () => number
  /** Minutes east of UTC at this moment. */
  readonly offset: () => number
  readonly chance: Chance
}

/** A new random name at each call: eight or more lower-case letters and digits. */
export type Chance = () => string

/** Sixty random bits: five sessions a day for a lifetime do not meet. */
export const chance: Chance = () => randomBytes(8).toString('hex').slice(0, 15)

/** What a name from chance looks like, wherever it comes back from a file. */
export const RANDOM_NAME = /^[a-z0-9]{4,40}$/

/** A name that may go into ids and paths. Throws RangeError when chance gave something else. */
export const newName = (from: Chance): string => {
  const name = from()
  if (!RANDOM_NAME.test(name)) throw new RangeError(`"${name}" is no random name of letters and digits`)
  return name
}
