import { dayAfter, daysBetween, isDay } from './day.ts'
import { ok, problem, type Result, wrong } from './result.ts'

/** Days as they are typed and as they are said to the player. Days are texts ("2026-03-14"), in English as all words of the program. */

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

/** The days of the week on which somebody plays. */

/** 0 = Sunday; none are all of them. */
export type Week = readonly number[]

const DAYS = ['sunday', 'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday']
/** Weeks are read and said from Monday on. */
const FROM_MONDAY = [1, 2, 3, 4, 5, 6, 0]
const EVERY_DAY = 'every day'
const LIKE = 'days like mon,wed,fri or mon-fri, or every day'

const sorted = (days: readonly number[]): Week => FROM_MONDAY.filter(d => days.includes(d))
const dayNamed = (s: string): number => (s.length < 3 ? -1 : DAYS.findIndex(d => d.startsWith(s)))

/** "mon", "mon-fri", "fri-mon": from one to the other, round the end of the week. */
const span = (s: string): readonly number[] | null => {
  const [first, last, more] = s.split('-').map(dayNamed)
  if (first === undefined || first < 0 || (last ?? 0) < 0 || more !== undefined) return null
  const length = last === undefined ? 0 : (last - first + 7) % 7
  return Array.from({ length: length + 1 }, (_, i) => (first + i) % 7)
}

/** "every day", "mon,wed,fri", "Monday to Friday", "mon-thu sat". */
export const parseWeek = (typed: string, field = 'days'): Result<Week> => {
  const text = typed.trim().toLowerCase()
  if (text === EVERY_DAY || text === 'all') return ok([])
  const words = text
    .replace(/\s*(?:-|\u2013|\bto\b)\s*/g, '-')
    .split(/[\s,;]+|\band\b/)
    .filter(Boolean)
  const spans = words.map(span)
  const days = spans.flatMap(s => s ?? [])
  if (words.length === 0 || spans.includes(null)) return problem(field, typed, LIKE)
  return ok(new Set(days).size === DAYS.length ? [] : sorted(days))
}

/** As `parseWeek` reads it, and as it is kept: "mon,wed,fri". */
export const weekText = (week: Week): string =>
  week.length === 0 ? EVERY_DAY : week.map(d => (DAYS[d] as string).slice(0, 3)).join(',')

/** "every day", "Monday, Wednesday and Friday", "Monday to Friday". */
export const weekWords = (week: Week): string => {
  if (week.length === 0) return EVERY_DAY
  const names = week.map(d => (DAYS[d] as string).replace(/^./, c => c.toUpperCase()))
  const [first, last] = [FROM_MONDAY.indexOf(week[0] as number), FROM_MONDAY.indexOf(week.at(-1) as number)]
  if (week.length > 2 && last - first === week.length - 1) return `${names[0]} to ${names.at(-1)}`
  return [names.slice(0, -1).join(', '), names.at(-1)].filter(Boolean).join(' and ')
}

const plays = (day: string, week: Week): boolean =>
  week.length === 0 || week.includes(new Date(`${day}T00:00:00Z`).getUTCDay())

/** The days from one on, and before another, on which somebody plays. */
export const playingDays = (from: string, before: string, week: Week = []): readonly string[] =>
  Array.from({ length: Math.max(0, daysBetween(from, before)) }, (_, i) => dayAfter(from, i)).filter(d =>
    plays(d, week),
  )
