import type { OutputName } from './outputs/output.ts'

/** What a screen says when the sound has broken off. `broken` = a repetition sounded. All lines fit 80 columns. */
export const brokeOffLine = (broken: boolean): string =>
  broken
    ? "The sound broke off. That repetition doesn't count."
    : 'The sound broke off; it is being looked for.'

/** And when another output has taken over: the same one anew, the next one, or the silent clock; or one after silence. */
export const backLine = (name: OutputName, broken: boolean): string => {
  const now = name === 'silent' ? 'No sound: follow the mark by eye.' : `The sound is back (${name}).`
  return broken ? `${now} That repetition doesn't count.` : now
}
