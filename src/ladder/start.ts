import { frac } from '../music/fraction.ts'
import { ok, type Result } from '../music/result.ts'
import { markAtOrBelow } from '../music/scale.ts'
import { compareTempo, faster, scaleTempo, slower, type Tempo } from '../music/tempo.ts'
import { rungAtOrBelow, rungs, type Step, twoUpTo } from './rungs.ts'

/** The first visit of a day begins at this share of the ceiling, less for every further day away. */
export const DAY_START = 0.88
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

/** Share of the ceiling at which a day begins: 0.88 x 0.98^(days-1), not below 0.70. */
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

const search = (start: Tempo | null, goal: Tempo, step: Step): Result<Opening> => {
  const low = markBelow(goal, FIND_FROM / 2)
  const all = rungs(start && faster(low, start) === low ? start : low, goal, step)
  return all.ok
    ? ok({ rungs: all.value, at: rungAtOrBelow(all.value, shareOf(goal, FIND_FROM)), find: true })
    : all
}

/**
 * Where a visit begins: at the typed start the first time (or looking for one), at a share of the ceiling on a new
 * day, where it stopped on the same day. `share` in 0.8 to 1.
 */
export const opening = (
  start: Tempo | null,
  goal: Tempo,
  step: Step,
  before: Before | null,
  share = DAY_START,
): Result<Opening> => {
  if (!start && !before?.ceiling && before?.days !== 0) return search(start, goal, step)
  if (before && before.days > FORGOTTEN_AFTER) return search(start, goal, step)
  const lowest = start ?? markBelow(goal, FIND_FROM / 2)
  const all = rungs(lowest, goal, step)
  if (!all.ok || !before) return all.ok ? ok({ rungs: all.value, at: 0, find: false }) : all
  const { days, last } = before
  // What was reached above this goal (a quick ladder may have had another) counts as the goal.
  const ceiling = before.ceiling && slower(before.ceiling, goal)
  const where = (): number => {
    if (days === 0 && compareTempo(last.tempo, goal) <= 0) {
      const lower = last.slipped || last.minutes >= LONG_PAUSE ? 1 : 0
      return Math.max(0, rungAtOrBelow(all.value, last.tempo) - lower)
    }
    return ceiling ? rungAtOrBelow(all.value, shareOf(ceiling, dayShare(Math.max(1, days), share))) : 0
  }
  const at = where()
  return ok({ rungs: twoUpTo(all.value, at, ceiling), at, find: false })
}
