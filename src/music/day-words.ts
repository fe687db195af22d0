/** Days as they are typed and as they are said to the player. Days are texts ("2026-03-14"), in English as all words of the program. */

import { dayAfter, isDay } from './day.ts'
import { ok, problem, type Result, wrong } from './result.ts'

const MONTHS = [
  ...['january', 'february', 'march', 'april', 'may', 'june'],
  ...['july', 'august', 'september', 'october', 'november', 'december'],
]
const NAMED =
  /^(?:(\d{1,2})(?:st|nd|rd|th)?\.? ([a-z]{3,9})\.?|([a-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)?)(?:,? (\d{4}))?$/

/** "March 14", "14 March 2027" as a day; without a year the next one from `from` on, or the last one up to `to`. */
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

const NEAR: ReadonlyMap<string, number> = new Map([
  ['today', 0],
  ['tomorrow', 1],
  ['yesterday', -1],
])
const WEEK = ['sunday', 'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday']
const AWAY = /^(?:in (\d{1,4}) (days?|weeks?)|\+(\d{1,4})|(\d{1,4}) (days?|weeks?) ago)$/

/** "tomorrow", "in 6 days", "2 weeks ago", "Friday" as days from today: of weekdays the next one, or the last one looking back. */
const daysOff = (s: string, today: string, back: boolean): number | null => {
  const text = s.toLowerCase().replace(/\s+/g, ' ')
  const near = NEAR.get(text)
  if (near !== undefined) return near
  const weekday = text.length < 3 ? -1 : WEEK.findIndex(w => w.startsWith(text))
  if (weekday >= 0) {
    const away = (weekday - new Date(`${today}T00:00:00Z`).getUTCDay() + 7) % 7 || 7
    return back ? (away === 7 ? -7 : away - 7) : away
  }
  const [, ahead, aheadIn, plus, ago, agoIn] = AWAY.exec(text) ?? []
  const days = (n: string, unit = 'day'): number => Number(n) * (unit.startsWith('week') ? 7 : 1)
  if (ago !== undefined) return -days(ago, agoIn)
  const n = ahead ?? plus
  return n === undefined ? null : days(n, aheadIn)
}

/**
 * A day as typed, "2026-03-14", "March 14", "in 6 days" or "Friday": any, or none before `from`, or none after `to`. Where
 * either is named it is today, from which days are counted.
 */
export const parseDay = (
  s: string,
  field: string,
  { from, to }: { readonly from?: string; readonly to?: string } = {},
): Result<string> => {
  const typed = s.trim()
  const today = from ?? to
  const off = today === undefined ? null : daysOff(typed, today, from === undefined)
  const day =
    today !== undefined && off !== null ? dayAfter(today, off) : (namedDay(typed, from, to) ?? typed)
  if (isDay(day)) {
    if (from !== undefined && day < from)
      return wrong(`"${s}" is past. Try ${dayAfter(from, 6)}, "in 6 days" or "Friday".`)
    if (to !== undefined && day > to)
      return wrong(`"${s}" is still to come. Try ${to}, "6 days ago" or "Monday".`)
    return ok(day)
  }
  if (from !== undefined) return problem(field, s, `${dayAfter(from, 6)}, "in 6 days" or "Friday"`)
  return problem(field, s, to === undefined ? '2026-03-14' : `${to}, "6 days ago" or "Monday"`)
}

const format = (o: Intl.DateTimeFormatOptions): ((day: string) => string) => {
  const f = new Intl.DateTimeFormat('en-US', { ...o, timeZone: 'UTC' })
  return day => f.format(Date.parse(`${day}T00:00:00Z`))
}

/** "Saturday" */
export const weekday = format({ weekday: 'long' })
const dayAndMonth = format({ day: 'numeric', month: 'long' })

/** "March 28", with the year when it is not this one. */
export const dayText = (day: string, today: string): string =>
  day.slice(0, 4) === today.slice(0, 4) ? dayAndMonth(day) : `${dayAndMonth(day)}, ${day.slice(0, 4)}`

/** "Saturday, March 28" */
export const fullDay = (day: string, today: string): string => `${weekday(day)}, ${dayText(day, today)}`

/** "today", "tomorrow", "in 4 days", "yesterday", "3 days ago". */
export const daysAway = (days: number): string => {
  if (days === 0) return 'today'
  if (Math.abs(days) === 1) return days > 0 ? 'tomorrow' : 'yesterday'
  return days > 0 ? `in ${days} days` : `${-days} days ago`
}
