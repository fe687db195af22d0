/** So many gaps within so long, ms, and an output is too restless for this computer. */
const GAPS = 4
const WITHIN = 30_000

/** Counts the gaps of the output that plays. */
export const gapCount = () => {
  let gaps: number[] = []
  return {
    /** A gap at `t` (monotonic ms). True = it was one too many; the count begins anew. */
    gap: (t: number): boolean => {
      gaps = [...gaps.filter(g => g > t - WITHIN), t]
      if (gaps.length < GAPS) return false
      gaps = []
      return true
    },
    anew: (): void => {
      gaps = []
    },
  }
}
