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
