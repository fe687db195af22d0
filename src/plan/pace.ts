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

/** The best that practice would lead to in the long run, as a multiple of the goal. */
const LIMIT = Math.log(1.35)
/** Before anything is known: so much of the way to that limit is gone each day, and it weighs like so many days. */
const USUAL_SHARE = 0.134
const USUAL_WEIGHT = 2
/** How far the shares of single days lie from their mean (standard deviation), and what 80 % of a normal curve spans. */
const SPREAD = 0.1
const EIGHTY = 1.28

/** Days until the goal: the middle, and the range that should hold four times in five. `high` may be Infinity. */
export type Days = { readonly low: number; readonly middle: number; readonly high: number }

/** The share of the way to the limit that a day takes, its mean drawn toward the usual one, and how sure that is. */
export const dailyShare = (
  ys: readonly number[],
  goal: number,
  lost = 0,
): { readonly each: readonly number[]; readonly mean: number; readonly sd: number } => {
  const [limit, first] = [goal + LIMIT, ys[0] ?? Number.NaN]
  const each = ys.slice(1).map((y, i) => {
    const from = first + ((ys[i] as number) - first) * (1 - lost)
    return (y - from) / (limit - from)
  })
  const weight = each.length + USUAL_WEIGHT
  const mean = (each.reduce((sum, k) => sum + k, 0) + USUAL_SHARE * USUAL_WEIGHT) / weight
  return { each, mean, sd: SPREAD / Math.sqrt(weight) }
}

/**
 * The gap law: every day of practice closes the same share of the gap to a limit somewhat above the goal. Single players'
 * curves are of that shape (Heathcote, Brown and Mewhort, Psychon. Bull. Rev. 7, 2000); limit, usual share and spread were
 * chosen on simulated learners and say nothing about people.
 */
export const gapDays = (ys: readonly number[], goal: number, lost = 0): Days => {
  const last = ys.at(-1) ?? Number.NaN
  if (last >= goal) return { low: 0, middle: 0, high: 0 }
  const { mean, sd } = dailyShare(ys, goal, lost)
  const days = (share: number): number => daysAt(share, ys, goal, lost)
  return { low: days(mean + EIGHTY * sd), middle: days(mean), high: days(mean - EIGHTY * sd) }
}

/** Days of practice until the goal where each closes such a share of the gap, and so much is lost between two. */
const daysAt = (share: number, ys: readonly number[], goal: number, lost: number): number => {
  const [limit, first, last] = [goal + LIMIT, ys[0] ?? Number.NaN, ys.at(-1) ?? Number.NaN]
  if (share <= 0) return Number.POSITIVE_INFINITY
  const k = Math.min(share, 0.999)
  // A day leads from y to left * y + more: toward a level that is lower the more is lost.
  const left = (1 - k) * (1 - lost)
  const level = ((1 - k) * lost * first + k * limit) / (1 - left)
  return level <= goal
    ? Number.POSITIVE_INFINITY
    : Math.log((level - last) / (level - goal)) / -Math.log(left)
}

/** How likely the goal is reached within so many days of practice. */
export const chanceWithin = (days: number, ys: readonly number[], goal: number, lost = 0): number => {
  const { mean, sd } = dailyShare(ys, goal, lost)
  let [low, high] = [0, 0.999]
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2
    if (daysAt(middle, ys, goal, lost) > days) low = middle
    else high = middle
  }
  return normalBelow((mean - high) / sd)
}

/** The share of a normal curve below z, to .0002: the logistic with two terms (Bowling et al., J. Ind. Eng. Manag. 2, 2009). */
const normalBelow = (z: number): number => 1 / (1 + Math.exp(-(1.5976 * z + 0.07056 * z ** 3)))
