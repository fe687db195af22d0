/** Days are texts, "2026-03-14". */

/** Whether a text is a day of the calendar. */
export const isDay = (s: string): boolean => {
  const time = /^\d{4}-\d{2}-\d{2}$/.test(s) ? Date.parse(`${s}T00:00:00Z`) : Number.NaN
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(s)
}

/** Until this hour of the night a player's day goes on. */
const CUT = 4

/**
 * The player's local day ("2026-03-14") on which a moment falls: days are cut at 4:00.
 * `time` is ISO UTC or milliseconds since 1970; `offset` is minutes east of UTC.
 */
export const localDay = (time: string | number, offset: number): string =>
  new Date(new Date(time).getTime() + (offset - CUT * 60) * 60_000).toISOString().slice(0, 10)

/** A moment as the player's clock shows it: milliseconds since 1970, minutes east of UTC. */
export type Instant = { readonly wall: number; readonly offset: number }

/** The player's day of a moment. */
export const dayAt = (now: Instant): string => localDay(now.wall, now.offset)

const DAY = 86_400_000

/** Whole days from one day to another; negative when the second is earlier. */
export const daysBetween = (from: string, to: string): number =>
  Math.round((Date.parse(to) - Date.parse(from)) / DAY)

/** The day so many days later. */
export const dayAfter = (day: string, days: number): string =>
  new Date(Date.parse(day) + days * DAY).toISOString().slice(0, 10)

/** The Monday of its week. */
export const mondayOf = (day: string): string => dayAfter(day, -((new Date(day).getUTCDay() + 6) % 7))

/** Minutes of practice a day: what can be said, and what is planned where nobody said. */
export const DAY_MINUTES = { least: 10, most: 480, usual: 40 } as const
