import { type Direction, shareOfGoal } from '../ladder/direction.ts'
import type { LoggedDay } from '../ladder/log.ts'
import { daysBetween } from '../music/day.ts'
import type { Tempo } from '../music/tempo.ts'
import { chanceWithin, gapDays, lineDays, theilSen } from './pace.ts'

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
/**
 * What a day without it costs of all that was gained: nobody knows, so the near end of a range takes the least and the far
 * end the most. Chosen on invented learners.
 */
const FORGOTTEN = { least: 0.03, usual: 0.06, most: 0.08 } as const
const LEVEL_DAYS = 3
/** ln tempo a day. */
const LEVEL_SLOPE = 0.002
/** Beyond so many days the end of a range is not worth a number. */
const FARTHEST = 14

/** Days since the last gap of more than three days; none when that gap is still open. */
const sinceGap = <D extends { readonly day: string }>(days: readonly D[], today: string): readonly D[] => {
  const all = [...days.map(d => d.day), today]
  const from = all.findLastIndex((day, i) => i > 0 && daysBetween(all[i - 1] as string, day) > LONGEST_GAP)
  return from < 0 ? days : days.slice(from)
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

/** The range of the gap law in whole days of practice: the goal is reached on a day, so a part of one counts. */
const stated = (ys: readonly number[], every: number): { readonly low: number; readonly high: number } => {
  const { low } = gapDays(ys, 0, lostAt(every, 'least'))
  const { high } = gapDays(ys, 0, lostAt(every, 'most'))
  return { low: Math.max(1, Math.ceil(low)), high: Math.max(1, Math.ceil(high)) }
}

/** Days from one turn to the next, as it came until now; 1 = every day. */
const everyOf = (days: readonly DayBest[]): number => {
  const [first, last] = [days[0], days.at(-1)]
  return first && last && days.length > 1 ? daysBetween(first.day, last.day) / (days.length - 1) : 1
}

/** How many days of practice so many days ahead hold, if this comes as often as it came until now. */
const turnsIn = (ahead: number, every: number): number => Math.floor(ahead / every + 1e-9)

/** What comes every second day or less loses between two turns what a day without takes of all that was gained. */
const lostAt = (every: number, kind: keyof typeof FORGOTTEN): number =>
  every < 2 ? 0 : 1 - (1 - FORGOTTEN[kind]) ** (every - 1)

const LIKELY = 0.85
/** So far from one half it is still open. */
const OPEN = 0.15
/** What is likely even if much is forgotten, unlikely even if little is, or open in the middle; between these nothing. */
const against = (turns: number, ys: readonly number[], every: number): Against | null => {
  const chance = (kind: keyof typeof FORGOTTEN): number => chanceWithin(turns, ys, 0, lostAt(every, kind))
  if (chance('most') >= LIKELY) return 'ready early'
  if (chance('least') <= 1 - LIKELY) return 'not by then'
  return Math.abs(chance('usual') - 0.5) <= OPEN ? 'on the day' : null
}

const middleOf = (days: readonly number[], low: number, high: number): Middle => {
  const [a, b] = days.map(d => Math.max(low, Math.min(high, Math.round(d)))).sort((x, y) => x - y) as [
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
}

export const outlookOf = (o: Asked): Outlook => {
  if (o.ceiling && shareOfGoal(o.ceiling, o.goal, o.direction) >= 1) return { kind: 'reached' }
  const practiced = o.days.at(-1)?.day === o.today ? 1 : 0
  const ahead = o.readyBy === null ? null : daysBetween(o.today, o.readyBy) - practiced
  const left = ahead !== null && ahead > 0 ? ahead : null
  const every = everyOf(sinceGap(o.days, o.today))
  const ys = sinceGap(o.days, o.today).flatMap(d => (d.best ? [ln(d.best, o)] : []))
  if (ys.length < FEW) {
    const turns = left === null ? null : Math.max(1, turnsIn(left, every))
    const gap = o.ceiling ? -ln(o.ceiling, o) : null
    return {
      kind: 'pace',
      days: turns,
      gap: gap === null ? null : Math.expm1(gap),
      perDay: gap === null || turns === null ? null : Math.expm1(gap / turns),
      rungs: o.rungs,
      rungsPerDay: o.rungs === null || turns === null ? null : o.rungs / turns,
    }
  }
  const { low, high } = stated(ys, every)
  const level = theilSen(ys.slice(-LEVEL_DAYS)).slope <= LEVEL_SLOPE
  if (level || low === Number.POSITIVE_INFINITY) return { kind: 'level', days: LEVEL_DAYS }
  const middle = middleOf([lineDays(ys, 0), gapDays(ys, 0, lostAt(every, 'usual')).middle], low, high)
  const shown = { low, middle, high: high > FARTHEST ? null : high }
  if (ys.length < ENOUGH) return { kind: 'early', ...shown }
  const turns = left === null ? null : turnsIn(left, every)
  return { kind: 'range', ...shown, against: turns === null ? null : against(turns, ys, every) }
}
