/** Below 40x12 a screen is one sentence: what the window is too small for. */
export const tooSmallText = (what: string): string =>
  `The window is too small ${what}: at least 40 columns and 12 rows.`

/** Spoken, since there is no mark to follow. */
export const NO_SOUND = 'No sound: follow the beat by yourself.'
export const CLICK_OFF = 'The click is off; + makes it louder.'
export const clickThrough = (level: string, absent: string | null): string =>
  `The click is ${level}.${absent === null ? '' : ` "${absent}" isn't here; the usual device plays.`}`
