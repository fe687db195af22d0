import { frac } from '../music/fraction.ts'
import { ok, type Result } from '../music/result.ts'
import { clickFor, type Rhythm } from '../music/rhythm.ts'
import {
  compareTempo,
  faster,
  inUnit,
  markAtOrBelow,
  ratioOf,
  scaleTempo,
  slower,
  type Tempo,
} from '../music/tempo.ts'
import { compareHard, type Direction, easier } from './direction.ts'
import { DEFAULT_RULES, type Rules } from './rules.ts'
import { type RungStep, rungAtOrBelow, rungs, twoUpTo } from './rungs.ts'

/**
 * The first visit of a day begins at this share of the ceiling, less for every further day away. On the traditional scale
 * that is one mark below it: yesterday's tempo is back within one rung. A choice, held against 0.88 on invented learners.
 */
const DAY_START = 0.97
const PER_DAY_AWAY = 0.98
const LEAST_SHARE = 0.7
/** After so many days the old ceiling says little: the start is looked for again. */
const FORGOTTEN_AFTER = 60
/** Back on the same day after so many minutes, it begins one rung lower. */
const LONG_PAUSE = 30
/** A start that is looked for begins at this share of the goal; the ladder reaches down to half of that. */
export const FIND_FROM = 0.6

/** What is known from before about one section in one rhythm. */
export type Before = {
  readonly ceiling: Tempo | null
  /** Days since the last verdict, 0 = today. */
  readonly days: number
  readonly last: { readonly tempo: Tempo; readonly slipped: boolean; readonly minutes: number }
}

/** What a visit's opening event freezes about its tempos. */
export type Opening = { readonly rungs: readonly Tempo[]; readonly at: number; readonly find: boolean }

/** Share of the ceiling at which a day begins: 0.97 x 0.98^(days-1), not below 0.70. */
export const dayShare = (days: number, share = DAY_START): number =>
  Math.max(LEAST_SHARE, share * PER_DAY_AWAY ** (days - 1))

/** A share of a tempo, exact to a millionth. */
export const shareOf = (t: Tempo, share: number): Tempo =>
  scaleTempo(t, frac(Math.round(share * 1e6), 1_000_000))

/** The highest traditional mark at or below a share of the goal, in the goal's note value. */
export const markBelow = (goal: Tempo, share: number): Tempo => {
  const limit = shareOf(goal, share)
  return { unit: goal.unit, bpm: frac(markAtOrBelow(limit.bpm.n / limit.bpm.d)) }
}

/** The start of a quick ladder where nobody says: the highest mark at or below 60 % of the goal. */
export const quickStart = (goal: Tempo): Tempo => markBelow(goal, FIND_FROM)

const search = (start: Tempo | null, goal: Tempo, step: RungStep): Result<Opening> => {
  const low = markBelow(goal, FIND_FROM / 2)
  const all = rungs(start && faster(low, start) === low ? start : low, goal, step)
  return all.ok
    ? ok({
        rungs: all.value,
        at: rungAtOrBelow(all.value, shareOf(goal, FIND_FROM)),
        find: true,
      })
    : all
}

/**
 * The rungs up to the goal; where it is a range whose lower end was reached, on to its upper end, the lower one among
 * them. A number of rungs in equal ratio leads straight to the end.
 */
const throughGoal = (
  lowest: Tempo,
  goal: Tempo,
  top: Tempo | null,
  step: RungStep,
  direction: Direction,
): Result<readonly Tempo[]> => {
  if (!top) return rungs(lowest, goal, step, direction)
  if (step.kind === 'count') return rungs(lowest, top, step)
  const [below, above] = [rungs(lowest, goal, step), rungs(goal, inUnit(top, goal.unit), step)]
  if (!below.ok || !above.ok) return below.ok ? above : below
  return ok([...below.value, ...above.value.slice(1)])
}

/** The upper end of a range, once its lower end was reached. */
const topOnceReached = (goal: Tempo, top: Tempo | null, before: Before | null): Tempo | null =>
  top && before?.ceiling && compareTempo(before.ceiling, goal) >= 0 && compareTempo(top, goal) > 0
    ? top
    : null

/**
 * Where a visit begins: at the typed start the first time (or looking for one), at a share of the ceiling on a new
 * day, where it stopped on the same day. A ladder that leads down needs a start, and its day begins as much faster.
 * `share` in 0.8 to 1. `top` = the upper end of a goal that is a range: the ladder goes on to it once the goal was reached.
 */
export const opening = (
  start: Tempo | null,
  goal: Tempo,
  step: RungStep,
  before: Before | null,
  direction: Direction = 'up',
  share = DAY_START,
  upper: Tempo | null = null,
): Result<Opening> => {
  if (direction === 'up' && !start && !before?.ceiling && before?.days !== 0) return search(start, goal, step)
  if (direction === 'up' && before && before.days > FORGOTTEN_AFTER) return search(start, goal, step)
  const lowest = start ?? markBelow(goal, FIND_FROM / 2)
  const top = direction === 'up' ? topOnceReached(goal, upper, before) : null
  const all = throughGoal(lowest, goal, top, step, direction)
  if (!all.ok) return all
  if (!before) return ok({ rungs: all.value, at: 0, find: false })
  const { days, last } = before
  // What was reached beyond this goal (a quick ladder may have had another) counts as the goal.
  const end = top ?? goal
  const ceiling = before.ceiling && easier(before.ceiling, end, direction)
  const where = (): number => {
    if (days === 0 && compareHard(last.tempo, end, direction) <= 0) {
      const lower = last.slipped || last.minutes >= LONG_PAUSE ? 1 : 0
      return Math.max(0, rungAtOrBelow(all.value, last.tempo) - lower)
    }
    if (!ceiling) return 0
    const eased = dayShare(Math.max(1, days), share)
    return rungAtOrBelow(all.value, shareOf(ceiling, direction === 'up' ? eased : 1 / eased))
  }
  return ok({ rungs: all.value, at: where(), find: false })
}

const NOTCH: RungStep = { kind: 'notch' }

/** Sections that are joined begin at this share of the lower one's ceiling. */
const JOIN_START = 0.92

/** Two in a row go up: what is joined was clean in its parts before. */
export const JOIN_RULES: Rules = { ...DEFAULT_RULES, up: { kind: 'row', n: 2 } }

/** A section of a join: its ceiling in even rhythm, and its own goal. */
export type Joined = { readonly ceiling: Tempo | null; readonly goal: Tempo }

/**
 * Where a visit of joined sections begins. The first one, when all its parts have a ceiling: at the highest rung not above
 * 0.92 x the lowest of these (as shares of their goals, should they begin at other marks), and up by two notches. After
 * that like any other.
 */
export const joinOpening = (
  parts: readonly Joined[],
  start: Tempo | null,
  goal: Tempo,
  before: Before | null,
  step: RungStep = NOTCH,
  top: Tempo | null = null,
  share = DAY_START,
): Result<Opening> => {
  const known = parts.flatMap(p => (p.ceiling ? [scaleTempo(p.ceiling, ratioOf(goal, p.goal))] : []))
  if (before?.ceiling || before?.days === 0 || known.length < parts.length || known.length === 0)
    return opening(start, goal, step, before, 'up', share, top)
  const from = shareOf(known.reduce(slower), JOIN_START)
  const all = rungs(start ?? slower(markBelow(goal, FIND_FROM / 2), from), goal, step)
  if (!all.ok) return all
  const at = rungAtOrBelow(all.value, from)
  return ok({ rungs: twoUpTo(all.value, at, goal), at, find: false })
}

/** Start and goal of a rhythm's own ladder: divided by how much quicker its quick notes are, before rungs are built. */
export const alteredEnds = (
  start: Tempo | null,
  goal: Tempo,
  r: Rhythm,
): { readonly start: Tempo | null; readonly goal: Tempo } => ({
  start: start && clickFor(start, r),
  goal: clickFor(goal, r),
})
