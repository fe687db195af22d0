/** Days are texts, "2026-03-14". */

const DAY = 86_400_000

/** Whole days from one day to another; negative when the second is earlier. */
export const daysBetween = (from: string, to: string): number =>
  Math.round((Date.parse(to) - Date.parse(from)) / DAY)

/** The day so many days later. */
export const dayAfter = (day: string, days: number): string =>
  new Date(Date.parse(day) + days * DAY).toISOString().slice(0, 10)
