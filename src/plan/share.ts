/** Dividing minutes: by need, with a floor and a cap. */

export type Claim = { readonly need: number; readonly floor: number; readonly cap: number }

const clamp = (x: number, low: number, high: number): number => Math.max(low, Math.min(high, x))

/**
 * Minutes in proportion to need, none below its floor or above its cap, together `minutes` (less where all caps are met;
 * floors in proportion where they do not fit).
 */
export const divide = (claims: readonly Claim[], minutes: number): readonly number[] => {
  const floors = claims.reduce((sum, c) => sum + c.floor, 0)
  if (floors >= minutes) return claims.map(c => (floors === 0 ? 0 : (c.floor * minutes) / floors))
  const at = (level: number): readonly number[] =>
    claims.map(c => clamp(level * c.need, c.floor, Math.max(c.floor, c.cap)))
  const total = (level: number): number => at(level).reduce((a, b) => a + b, 0)
  // What a level gives rises with it, so halving finds the one that gives all minutes.
  let [low, high] = [0, 1]
  while (total(high) < minutes && high < 1e12) high *= 2
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2
    if (total(middle) < minutes) low = middle
    else high = middle
  }
  return at(high)
}

/** Whole and half minutes with the same sum, rounded down to a half: the largest rests are rounded up. */
export const inHalves = (minutes: readonly number[]): readonly number[] => {
  const sum = minutes.reduce((a, b) => a + b, 0)
  const low = minutes.map(m => Math.floor(m * 2 + 1e-9))
  const left = Math.floor(sum * 2 + 1e-6) - low.reduce((a, b) => a + b, 0)
  const up = new Set(
    minutes
      .map((m, i) => ({ i, rest: m * 2 - (low[i] as number) }))
      .sort((a, b) => b.rest - a.rest)
      .slice(0, left)
      .map(x => x.i),
  )
  return low.map((halves, i) => (halves + (up.has(i) ? 1 : 0)) / 2)
}
