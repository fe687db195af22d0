/** A new random name at each call: eight or more lower-case letters and digits. */
export type Chance = () => string

/** What a name from chance looks like, wherever it comes back from a file. */
export const RANDOM_NAME = /^[a-z0-9]{4,40}$/

/** A name that may go into ids and paths. Throws RangeError when chance gave something else. */
export const newName = (from: Chance): string => {
  const name = from()
  if (!RANDOM_NAME.test(name)) throw new RangeError(`"${name}" is no random name of letters and digits`)
  return name
}

/** Short, random, for a piece or a passage: what it is known by whatever it is called. */
export const shortId = (chance: Chance): string => newName(chance).slice(0, 8)
