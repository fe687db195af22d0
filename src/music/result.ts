import { isMissing, isWrong } from './words.ts'

/**
 * What was wrong with something a person typed or a file held, as parts of one clear sentence: what it was typed for
 * ("breath 2, at"), what was typed, and what to type instead. `isnt` = what it should have been: "a meter".
 */
export type Problem = {
  field: string
  got: string
  accepted: string
  isnt?: string
  /** The whole sentence, where those parts would not make a good one. */
  says?: string
  /** Nothing that was typed is wrong: it could not be done. */
  failed?: true
}

/** A value, or the one thing that was wrong with it. Parsers return this and never throw. */
export type Result<T> = { ok: true; value: T } | Refused
export type Refused = { ok: false; problem: Problem }

export const ok = <T>(value: T): Result<T> => ({ ok: true, value })

export const problem = (field: string, got: string, accepted: string, isnt?: string): Refused => ({
  ok: false,
  problem: { field, got, accepted, ...(isnt === undefined ? {} : { isnt }) },
})

/** In a sentence of its own: what is wrong, then what to type. */
export const wrong = (says: string): Refused => ({
  ok: false,
  problem: { field: '', got: '', accepted: '', says },
})

/** What was typed is right, but it could not be done: why, in one sentence. */
export const failed = (says: string): Refused => ({
  ok: false,
  problem: { field: '', got: '', accepted: '', says, failed: true },
})

export type Need = <T>(r: Result<T>) => T

class Ended extends Error {
  readonly by: Refused
  readonly need: Need
  constructor(by: Refused, need: Need) {
    super(sentence(by.problem))
    this.by = by
    this.need = need
  }
}

const needing = (): Need => {
  const need: Need = r => {
    if (!r.ok) throw new Ended(r, need)
    return r.value
  }
  return need
}

const endOf = (error: unknown, need: Need): Refused => {
  if (error instanceof Ended && error.need === need) return error.by
  throw error
}

/** Several steps, any of which may go wrong: `need(step)` is its value; the first problem is that of the whole. */
export const attempt = <T>(steps: (need: Need) => T): Result<T> => {
  const need = needing()
  try {
    return ok(steps(need))
  } catch (error) {
    return endOf(error, need)
  }
}

/** The same with steps that take time. */
export const attemptLater = async <T>(steps: (need: Need) => Promise<T>): Promise<Result<T>> => {
  const need = needing()
  try {
    return ok(await steps(need))
  } catch (error) {
    return endOf(error, need)
  }
}

/** The value of what was checked when it was kept, or stands in the program: anything else is a fault of ours. */
export const checked = <T>(r: Result<T>): T => {
  if (!r.ok) throw new RangeError(`this was kept though it cannot be read: ${sentence(r.problem)}`)
  return r.value
}

/**
 * `"6/7" isn't a meter. Try 6/8, 3/4 or 2+2+3/8.`; of one thing among others `In breath 2, "49" isn't ...`. Free of
 * control characters.
 */
export const sentence = ({ field, got, accepted, isnt, says }: Problem): string =>
  says !== undefined
    ? printable(says)
    : got === ''
      ? isMissing(field, accepted)
      : isWrong(field, printable(got), accepted, isnt)

/** Text from files or the command line, made safe for a terminal: control characters become spaces. */
export const printable = (s: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is removed here
  s.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]+/g, ' ')

type Given<T> = { [K in keyof T as undefined extends T[K] ? never : K]: T[K] } & {
  [K in keyof T as undefined extends T[K] ? K : never]?: Exclude<T[K], undefined>
}

/** What is there, without what is undefined. */
export const given = <const T extends object>(t: T): Given<T> =>
  Object.fromEntries(Object.entries(t).filter(([, v]) => v !== undefined)) as Given<T>
