/** What was wrong with something a person typed or a file held: three parts of one clear sentence. */
export type Problem = { field: string; got: string; accepted: string }

/** A value, or the one thing that was wrong with it. Parsers return this and never throw. */
export type Result<T> = { ok: true; value: T } | { ok: false; problem: Problem }

export const ok = <T>(value: T): Result<T> => ({ ok: true, value })

export const problem = (field: string, got: string, accepted: string): { ok: false; problem: Problem } => ({
  ok: false,
  problem: { field, got, accepted },
})

/** `goal tempo: "abc" can't be used; accepted: ….`, free of control characters. */
export const sentence = (p: Problem): string =>
  `${p.field}: ${p.got === '' ? 'nothing was given' : `"${printable(p.got)}" can't be used`}; accepted: ${p.accepted}.`

/** Text from files or the command line, made safe for a terminal: control characters become spaces. */
export const printable = (s: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is removed here
  s.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]+/g, ' ')
