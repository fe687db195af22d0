import { compareTempo, type Tempo } from '../music/tempo.ts'
import { compareHard, type Direction, harder } from './direction.ts'
import type { Up } from './rules.ts'

/** One cold take: the local day ("2026-03-14"), the tempo, and whether it was clean. */
export type ColdTake = { readonly day: string; readonly tempo: Tempo; readonly clean: boolean }

/** Clean cold takes at the goal on so many days make a section ready. */
const DAYS_TO_BE_READY = 2

/** So many cold takes in a row that failed at a tempo, or below it, and it is no longer secure. */
const FALLS_AFTER = 2

/** The hardest tempo of a clean cold take that was not followed by two failed ones there; null = none. Oldest first. */
export const secure = (takes: readonly ColdTake[], d: Direction = 'up'): Tempo | null =>
  takes
    .filter(
      (t, i) =>
        t.clean &&
        takes.slice(i + 1).filter(x => !x.clean && compareHard(x.tempo, t.tempo, d) <= 0).length <
          FALLS_AFTER,
    )
    .reduce<Tempo | null>((best, t) => (best ? harder(best, t.tempo, d) : t.tempo), null)

/** A take belongs to the upper end of a range from that tempo on, else to the goal's lower end. */
const isUpper = (t: ColdTake, top: Tempo | null): boolean => top !== null && compareTempo(t.tempo, top) >= 0

/** The day since which one end of the goal is sure; null = clean days are still missing there. */
const sureSince = (
  takes: readonly ColdTake[],
  goal: Tempo,
  top: Tempo | null,
  upper: boolean,
  d: Direction = 'up',
): string | null => {
  const days = cleanDays(takes, goal, top, upper, d)
  return days[DAYS_TO_BE_READY - 1] ?? null
}

/** Days of clean cold takes at one end of the goal; one that was not clean begins them anew. */
const cleanDays = (
  takes: readonly ColdTake[],
  goal: Tempo,
  top: Tempo | null,
  upper: boolean,
  d: Direction,
): readonly string[] => {
  const here = takes.filter(t => compareHard(t.tempo, goal, d) >= 0 && isUpper(t, top) === upper)
  const since = here.slice(here.findLastIndex(t => !t.clean) + 1)
  return [...new Set(since.map(t => t.day))].sort()
}

/** How many of the clean days that make it ready are there, at the end of the goal that has fewer; two at most. */
export const cleanColds = (
  takes: readonly ColdTake[],
  goal: Tempo,
  top: Tempo | null = null,
  d: Direction = 'up',
): number =>
  Math.min(
    DAYS_TO_BE_READY,
    ...(top ? [false, true] : [false]).map(upper => cleanDays(takes, goal, top, upper, d).length),
  )

/**
 * Since when it is ready: the goal was reached (on a day, null = not yet), and cold takes at the goal were clean on two
 * days, none failed after them; where the goal is a range up to `top`, on two days at its lower end and on two at its upper one. Null = not yet.
 */
export const readySince = (
  reachedOn: string | null,
  goal: Tempo,
  takes: readonly ColdTake[],
  top: Tempo | null = null,
  d: Direction = 'up',
): string | null => {
  const ends = (top ? [false, true] : [false]).map(upper => sureSince(takes, goal, top, upper, d))
  // As texts, null comes after every day.
  return [reachedOn, ...ends].sort().at(-1) ?? null
}

/**
 * The end of a goal at which the next take is played: the one that still misses clean days; where both do or none does,
 * the other one than last time, the lower one first. Takes are oldest first.
 */
export const nextEnd = (takes: readonly ColdTake[], goal: Tempo, top: Tempo | null): Tempo => {
  if (top === null) return goal
  const open = [false, true].map(upper => sureSince(takes, goal, top, upper) === null)
  if (open[0] !== open[1]) return open[1] ? top : goal
  const last = takes.findLast(t => compareTempo(t.tempo, goal) >= 0)
  return last && !isUpper(last, top) ? top : goal
}

/** From so many cold takes at the ceiling on they say something about the rule. Choices. */
const ENOUGH = 6
const OFTEN = 1 / 2
const NEARLY_ALWAYS = 0.9
const MORE = 4
const FEWER = 2

/** Cold takes at the ceiling or beyond it. */
export const atCeiling = (
  takes: readonly ColdTake[],
  ceiling: Tempo | null,
  d: Direction = 'up',
): readonly ColdTake[] => (ceiling ? takes.filter(t => compareHard(t.tempo, ceiling, d) >= 0) : [])

/**
 * How many clean in a row would suit the player better than the rule in force: four where more than half of the cold takes
 * at the ceiling fail, two where at least nine in ten are clean; null = too few takes, no reason, or another kind of rule.
 */
export const rowAdvice = (takes: readonly ColdTake[], up: Up): number | null => {
  if (up.kind !== 'row' || takes.length < ENOUGH) return null
  const clean = takes.filter(t => t.clean).length
  if (takes.length - clean > takes.length * OFTEN) return up.n < MORE ? MORE : null
  return clean >= takes.length * NEARLY_ALWAYS && up.n > FEWER ? FEWER : null
}

/** What a passage is climbed by, and its cold takes at the ceiling, those of its sections among them. */
export type Climbed = { readonly passage: string; readonly up: Up; readonly takes: readonly ColdTake[] }

/**
 * The first passage whose own takes speak for another rule, by itself: what one passage holds says nothing of another.
 * `told` = whether that was said of it before; then it is not said again.
 */
export const passageAdvice = (
  all: readonly Climbed[],
  told: (passage: string, n: number) => boolean,
): { readonly passage: string; readonly n: number } | null => {
  const advice = all.flatMap(({ passage, up, takes }) => {
    const n = rowAdvice(takes, up)
    return n === null || told(passage, n) ? [] : [{ passage, n }]
  })
  return advice[0] ?? null
}
