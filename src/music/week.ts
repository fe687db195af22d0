/** The days of the week on which somebody plays. */

import { dayAfter, daysBetween } from './day.ts'
import { ok, problem, type Result } from './result.ts'

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
