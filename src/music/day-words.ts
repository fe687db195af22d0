/** Days as they are typed and as they are said to the player. Days are texts ("2026-03-14"), in English as all words of the program. */

import { isDay } from './day.ts'
import { ok, problem, type Result } from './result.ts'

const MONTHS = [
  ...['january', 'february', 'march', 'april', 'may', 'june'],
  ...['july', 'august', 'september', 'october', 'november', 'december'],
]
const NAMED =
  /^(?:(\d{1,2})(?:st|nd|rd|th)?\.? ([a-z]{3,9})\.?|([a-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)?)(?:,? (\d{4}))?$/

/** "14 March", "March 14, 2027" as a day; without a year the next one from `from` on, or the last one up to `to`. */
const namedDay = (s: string, from: string | undefined, to: string | undefined): string | null => {
  const [, d1, m1, m2, d2, year] = NAMED.exec(s.toLowerCase().replace(/\s+/g, ' ')) ?? []
  const name = m1 ?? m2 ?? ''
  const month = name.length < 3 ? 0 : MONTHS.findIndex(m => m.startsWith(name)) + 1
  if (month === 0) return null
  const day = `${String(month).padStart(2, '0')}-${(d1 ?? d2 ?? '').padStart(2, '0')}`
  if (year !== undefined) return `${year}-${day}`
  const near = Number((from ?? to)?.slice(0, 4))
  // The 29th of February may be years away.
  const years = Array.from({ length: 9 }, (_, i) => (from !== undefined ? near + i : near - i))
  const fits = (one: string): boolean => isDay(one) && (from !== undefined ? one >= from : one <= (to ?? ''))
  return years.map(y => `${y}-${day}`).find(fits) ?? null
}

/** A day as typed, "2026-03-14" or "14 March": any, or none before `from`, or none after `to`. */
export const parseDay = (
  s: string,
  field: string,
  { from, to }: { readonly from?: string; readonly to?: string } = {},
): Result<string> => {
  const day = namedDay(s.trim(), from, to) ?? s.trim()
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
