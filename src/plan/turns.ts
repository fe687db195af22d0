import { dayAfter, daysBetween } from '../music/day.ts'
import { playingDays, type Week } from '../music/day-words.ts'

/** The days to come on which something is practiced: one calendar for the plan, its load, pace and outlook. */

/**
 * Days of playing from a day on, and before another: that day is one of them whatever the week says, since it is planned.
 * 0 on the other day itself, less than that after it.
 */
export const daysToPlay = (from: string, before: string, week?: Week): number => {
  const days = daysBetween(from, before)
  return days <= 0 ? days : 1 + playingDays(dayAfter(from, 1), before, week).length
}

/** Days of playing from one turn of something to the next, as they came until now; 1 = on each of them. */
export const turnsEvery = (days: readonly string[], week?: Week): number => {
  const [first, last] = [days[0], days.at(-1)]
  if (first === undefined || last === undefined || days.length < 2) return 1
  const played = playingDays(dayAfter(first, 1), dayAfter(last, 1), week).length
  return Math.max(1, played / (days.length - 1))
}

/**
 * The days of its next turns, if it comes as often as until now: each so many days of playing after the one before, and what
 * is overdue comes on the next of them.
 */
export const turnsToCome = (
  o: {
    readonly last: string
    readonly today: string
    readonly every: number
    readonly week?: Week | undefined
  },
  count: number,
): readonly string[] => {
  const until = dayAfter(o.today, Math.ceil(count * o.every + 1) * DAYS_OF_WEEK)
  const days = playingDays(dayAfter(o.last, 1), until, o.week)
  const ahead = days.findIndex(d => d >= o.today)
  const first = Math.max(ahead, Math.ceil(o.every - 1e-9) - 1)
  return Array.from({ length: count }, (_, i) => days[first + Math.ceil(i * o.every - 1e-9)] as string)
}
const DAYS_OF_WEEK = 7

/** Days off between each turn and the one before. */
export const daysOff = (days: readonly string[]): readonly number[] =>
  days.slice(1).map((d, i) => daysBetween(days[i] as string, d) - 1)
