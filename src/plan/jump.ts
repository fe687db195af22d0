/** Minutes that were played on a day of practice. */
export type PlayedDay = { readonly day: string; readonly minutes: number }

/** More than the player is used to: the mean of the last days, and what is planned. */
export type Jump = { readonly usual: number; readonly planned: number }

const DAYS = 7
/** Sudden increases of load are what orchestra players name first (Chan and Ackermann 2014); the numbers are a choice. */
const RATIO = 1.3
const EXTRA = 15

/** A caution only after seven logged days, and only where it is both 1.3 times the mean and 15 minutes more. */
export const jumpOf = (planned: number, logged: readonly PlayedDay[]): Jump | null => {
  if (logged.length < DAYS) return null
  const last = [...logged].sort((a, b) => a.day.localeCompare(b.day)).slice(-DAYS)
  const usual = last.reduce((sum, d) => sum + d.minutes, 0) / DAYS
  return planned > RATIO * usual && planned > usual + EXTRA ? { usual, planned } : null
}
