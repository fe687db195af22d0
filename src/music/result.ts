/**
 * What was wrong with something a person typed or a file held, as parts of one clear sentence: what it was typed for
 * ("breath 2, at"), what was typed, and what to type instead. `isnt` = what it should have been: "a meter".
 */
export type Problem = { field: string; got: string; accepted: string; isnt?: string }

/** A value, or the one thing that was wrong with it. Parsers return this and never throw. */
export type Result<T> = { ok: true; value: T } | { ok: false; problem: Problem }

export const ok = <T>(value: T): Result<T> => ({ ok: true, value })

export const problem = (
  field: string,
  got: string,
  accepted: string,
  isnt?: string,
): { ok: false; problem: Problem } => ({
  ok: false,
  problem: { field, got, accepted, ...(isnt === undefined ? {} : { isnt }) },
})

/**
 * `"6/7" isn't a meter. Try 6/8, 3/4 or 2+2+3/8.`; of one thing among others `breath 2, at: "49" isn't ...`. Free of
 * control characters.
 */
export const sentence = ({ field, got, accepted, isnt }: Problem): string => {
  const among = field.includes(', ') || /\d$/.test(field)
  if (got === '') {
    if (among) return `${field}: something is missing. Type ${accepted}.`
    return `${field.startsWith('-') ? field : `The ${field}`} is missing. Type ${accepted}.`
  }
  const wrong = `"${printable(got)}" ${isnt ? `isn't ${isnt}` : "doesn't work"}`
  return `${isnt && !among ? '' : `${field}: `}${wrong}. Try ${accepted}.`
}

/** Text from files or the command line, made safe for a terminal: control characters become spaces. */
export const printable = (s: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is removed here
  s.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]+/g, ' ')
