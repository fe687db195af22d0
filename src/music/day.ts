import { ok, problem, type Result } from './result.ts'

/** Whether a text is a day of the calendar. */
const isDay = (s: string): boolean => {
  const time = /^\d{4}-\d{2}-\d{2}$/.test(s) ? Date.parse(`${s}T00:00:00Z`) : Number.NaN
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(s)
}

/** A day as typed, "2026-03-14": any, or none before `from`, or none after `to`. */
export const parseDay = (
  s: string,
  field: string,
  { from, to }: { readonly from?: string; readonly to?: string } = {},
): Result<string> => {
  const day = s.trim()
  const inside = isDay(day) && (from === undefined || day >= from) && (to === undefined || day <= to)
  if (inside) return ok(day)
  if (from !== undefined) return problem(field, s, `a date that is not past, as ${from}`)
  return problem(field, s, to === undefined ? 'a date as 2026-03-14' : `a day up to ${to}, as ${to}`)
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
