/** Days as they are typed and as they are said to the player. Days are texts ("2026-03-14"), in English as all words of the program. */

import { isDay } from './day.ts'
import { ok, problem, type Result } from './result.ts'

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

const format = (o: Intl.DateTimeFormatOptions): ((day: string) => string) => {
  const f = new Intl.DateTimeFormat('en-GB', { ...o, timeZone: 'UTC' })
  return day => f.format(Date.parse(`${day}T00:00:00Z`))
}

/** "Saturday" */
export const weekday = format({ weekday: 'long' })
const dayAndMonth = format({ day: 'numeric', month: 'long' })

/** "28 March", with the year when it is not this one. */
export const dayText = (day: string, today: string): string =>
  day.slice(0, 4) === today.slice(0, 4) ? dayAndMonth(day) : `${dayAndMonth(day)} ${day.slice(0, 4)}`

/** "today", "tomorrow", "in 4 days", "yesterday", "3 days ago". */
export const daysAway = (days: number): string => {
  if (days === 0) return 'today'
  if (Math.abs(days) === 1) return days > 0 ? 'tomorrow' : 'yesterday'
  return days > 0 ? `in ${days} days` : `${-days} days ago`
}
