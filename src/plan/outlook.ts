import { type Direction, shareOfGoal } from '../ladder/direction.ts'
import type { LoggedDay } from '../ladder/log.ts'
import { dayAfter, daysBetween } from '../music/day.ts'
import type { Week } from '../music/day-words.ts'
import type { Tempo } from '../music/tempo.ts'
import { chancesAhead, type FORGOTTEN } from './forecast.ts'
import { daysOff, turnsEvery, turnsToCome } from './turns.ts'

/** A day of practice and the highest rung completed on it. */
export type DayBest = { readonly day: string; readonly best: Tempo | null }

/** What may be said of a goal. All numbers are days of practice; never a single one alone. */
export type Outlook =
  | { readonly kind: 'reached' }
  /** Too few days to look ahead: what is needed. `days` = of practice to the date, null without one; the gap as a share of the ceiling. */
  | {
      readonly kind: 'pace'
      readonly days: number | null
      /** Goal over ceiling, less one; null while there is no ceiling. */
      readonly gap: number | null
      /** The same a day, compounded. */
      readonly perDay: number | null
      readonly rungs: number | null
      readonly rungsPerDay: number | null
    }
  /** No gain on three days: another way, no date. */
  | { readonly kind: 'level'; readonly days: number }
  /** After three or four days: an early look. `high` null = nobody knows. */
  | {
      readonly kind: 'early'
      readonly low: number
      readonly middle: Middle
      readonly high: number | null
    }
  /** Nothing that would help can be said of when; perhaps of the date. */
  | { readonly kind: 'open'; readonly against: Against | null }
  /** From five days on, with the date, where there is one and it is ahead. */
  | {
      readonly kind: 'range'
      readonly low: number
      readonly middle: Middle
      readonly high: number | null
      readonly against: Against | null
    }

/** By the line and by the gap law, the smaller first; null = too far away to say. */
type Middle = readonly [number, number] | null

export type Against = 'ready early' | 'on the day' | 'not by then'

const FEW = 3
const ENOUGH = 5
/** After so many days without practice the climb is a new one. */
const LONGEST_GAP = 3
const LEVEL_DAYS = 3
/** ln tempo a day. */
const LEVEL_SLOPE = 0.002
/** Beyond so many days the end of a range is not worth a number. */
const FARTHEST = 28
/** A range whose end is open says something only where it does not begin sooner than this. */
const VAGUE = 5

/** Days since the last gap of more than three days; none when that gap is still open. */
const sinceGap = <D extends { readonly day: string }>(days: readonly D[], today: string): readonly D[] => {
  const all = [...days.map(d => d.day), today]
  const from = all.findLastIndex((day, i) => i > 0 && daysBetween(all[i - 1] as string, day) > LONGEST_GAP)
  return days.slice(Math.max(0, from))
}

/** Days that can be looked at as one line, and those that cannot: their rungs were done by another rule. */
export type OneRule = {
  readonly days: readonly DayBest[]
  readonly leftOut: number
  /** The rules of those, as "2-in-a-row". */
  readonly rules: readonly string[]
}

/**
 * Two in a row are sooner done than three, so tempos that were reached by different rules make no line. What counts is the
 * rule of the latest rung; a day by another rule stays a day of practice. Days before a long gap are not spoken of.
 */
export const byOneRule = (log: readonly LoggedDay[], today: string): OneRule => {
  const rule = log.findLast(d => d.reached.length > 0)?.reached.at(-1)?.rule
  const bestOf = (d: LoggedDay): Tempo | null => d.reached.find(r => r.rule === rule)?.best ?? null
  const out = sinceGap(log, today).filter(d => d.best && !bestOf(d))
  return {
    days: log.map(d => ({ day: d.day, best: bestOf(d) })),
    leftOut: out.length,
    rules: [...new Set(out.flatMap(d => d.reached.map(r => r.rule)))],
  }
}

const ln = (t: Tempo, { goal, direction }: Pick<Asked, 'goal' | 'direction'>): number =>
  Math.log(shareOfGoal(t, goal, direction))

const LIKELY = 0.85
/** So far from one half it is still open. */
const OPEN = 0.2
/**
 * Likely, open in the middle whether nothing is forgotten on days off or much, or unlikely; between these nothing is said.
 */
const against = (chance: (forgotten: keyof typeof FORGOTTEN) => number): Against | null => {
  if (chance('usual') >= LIKELY) return 'ready early'
  if (chance('usual') <= 1 - LIKELY) return 'not by then'
  const open = (['none', 'usual', 'much'] as const).every(f => Math.abs(chance(f) - 0.5) <= OPEN)
  return open ? 'on the day' : null
}

/** Both ends of a range that should hold four times in five: in whole turns it holds more than .16 to .84 say. And its middle. */
const ENDS = { low: 0.16, middle: 0.5, high: 0.84 } as const

const middleOf = (turns: readonly number[], low: number, high: number): Middle => {
  const [a, b] = turns.map(d => Math.max(low, Math.min(high, Math.round(d)))).sort((x, y) => x - y) as [
    number,
    number,
  ]
  return b > FARTHEST ? null : [a, b]
}

export type Asked = {
  /** In order. */
  readonly days: readonly DayBest[]
  readonly goal: Tempo
  /** Which way its ladder leads; absent = up. */
  readonly direction?: Direction
  /** The hardest ever reached; after a gap it is only a hint of what may come back. */
  readonly ceiling: Tempo | null
  /** Rungs from the ceiling up to the goal. */
  readonly rungs: number | null
  readonly today: string
  readonly readyBy: string | null
  /** The days of the week on which the player plays; absent = every day. */
  readonly week?: Week | undefined
}

/** So many turns are looked ahead. */
const LOOKED = 40

/** The days of its turns to come: what was practiced today has its next one on another day. */
const comeOf = (days: readonly { readonly day: string }[], { today, week }: Asked): readonly string[] => {
  const all = days.map(d => d.day)
  const last = all.at(-1) ?? dayAfter(today, -1)
  return turnsToCome({ last, today, every: turnsEvery(all, week), week }, LOOKED)
}

/** What may be said, from the turns so far and those to come on the player's calendar. */
export const outlookOf = (o: Asked): Outlook => {
  if (o.ceiling && shareOfGoal(o.ceiling, o.goal, o.direction) >= 1) return { kind: 'reached' }
  const days = sinceGap(o.days, o.today)
  const come = comeOf(days, o)
  const { readyBy } = o
  const left = (readyBy !== null && come.filter(d => d < readyBy).length) || null
  const ys = days.flatMap(d => (d.best ? [ln(d.best, o)] : []))
  if (ys.length < FEW) {
    const gap = o.ceiling ? -ln(o.ceiling, o) : null
    return {
      kind: 'pace',
      days: left,
      gap: gap === null ? null : Math.expm1(gap),
      perDay: gap === null || left === null ? null : Math.expm1(gap / left),
      rungs: o.rungs,
      rungsPerDay: o.rungs === null || left === null ? null : o.rungs / left,
    }
  }
  if (theilSen(ys.slice(-LEVEL_DAYS)).slope <= LEVEL_SLOPE) return { kind: 'level', days: LEVEL_DAYS }
  const turns = days.filter(d => d.best).map(d => d.day)
  const off = daysOff([...turns, ...come])
  const chances = chancesAhead(ys, off)
  const within = (chance: number): number => {
    const found = chances.findIndex(c => c >= chance)
    return found < 0 ? Number.POSITIVE_INFINITY : found + 1
  }
  const [low, high] = [within(ENDS.low), within(ENDS.high)]
  if (low === Number.POSITIVE_INFINITY) return { kind: 'level', days: LEVEL_DAYS }
  const shown = {
    low,
    middle: middleOf([lineDays(ys, 0), within(ENDS.middle)], low, high),
    high: high > FARTHEST ? null : high,
  }
  const early = ys.length < ENOUGH
  const said = early || left === null ? null : against(f => chancesAhead(ys, off, f)[left - 1] ?? 1)
  if (shown.high === null && low <= VAGUE) return { kind: 'open', against: said }
  return early ? { kind: 'early', ...shown } : { kind: 'range', ...shown, against: said }
}

/** How quickly a ladder was climbed, from the best rung of each day of practice. Tempos here are natural logarithms. */

const median = (all: readonly number[]): number => {
  const a = [...all].sort((x, y) => x - y)
  const [low, high] = [
    a[Math.ceil(a.length / 2) - 1] ?? Number.NaN,
    a[Math.floor(a.length / 2)] ?? Number.NaN,
  ]
  return (low + high) / 2
}

/** A straight line through days 0, 1, 2 ... */
export type FittedLine = { readonly slope: number; readonly level: number }

/**
 * The line of Theil and Sen: the median of all slopes between two days, and the median level; one day that went badly does
 * not bend it. Needs two days. Source: P. K. Sen, J. Am. Stat. Assoc. 63 (1968).
 */
export const theilSen = (ys: readonly number[]): FittedLine => {
  const slopes = ys.flatMap((y, i) => ys.slice(i + 1).map((later, j) => (later - y) / (j + 1)))
  const slope = median(slopes)
  return { slope, level: median(ys.map((y, i) => y - slope * i)) }
}

/** Days from the last one until the line reaches `goal`; Infinity where it does not rise. */
export const lineDays = (ys: readonly number[], goal: number): number => {
  const { slope, level } = theilSen(ys)
  return slope > 0 ? Math.max(0, (goal - level) / slope - (ys.length - 1)) : Number.POSITIVE_INFINITY
}
