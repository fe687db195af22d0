/** Whole and half minutes. */

export const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)

export const half = (minutes: number): number => Math.round(minutes * 2) / 2
export const halfUp = (minutes: number): number => Math.ceil(minutes * 2 - 1e-9) / 2

/** So many parts that differ by half a minute at most, the longer ones first. */
export const parts = (minutes: number, n: number): readonly number[] => {
  const halves = Math.round(minutes * 2)
  return Array.from({ length: n }, (_, i) => (Math.floor(halves / n) + (i < halves % n ? 1 : 0)) / 2)
}

/** Whole and half minutes with the same sum, rounded down to a half: the largest rests are rounded up. */
export const inHalves = (minutes: readonly number[]): readonly number[] => {
  const low = minutes.map(m => Math.floor(m * 2 + 1e-9))
  const left = Math.floor(sum(minutes) * 2 + 1e-6) - sum(low)
  const up = new Set(
    minutes
      .map((m, i) => ({ i, rest: m * 2 - (low[i] as number) }))
      .sort((a, b) => b.rest - a.rest)
      .slice(0, left)
      .map(x => x.i),
  )
  return low.map((halves, i) => (up.has(i) ? halves + 1 : halves) / 2)
}
