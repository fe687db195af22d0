/** How far ahead frames are handed over, ms: the usual, and two for a computer that wakes up late. */
const DEPTHS = [100, 200, 400] as const
/** After so long without a gap the queue grows shorter again, ms. Twice as long each time that this was too early. */
const CALM = 180_000
const LONGEST_CALM = 3_600_000
/** What is told within this time is the same gap, ms. */
const ONE_GAP = 1000

export type Depth = {
  /** The present one. */
  readonly ms: () => number
  /** Would a gap that is told at `t` (monotonic ms) be another one than the last? */
  readonly isNew: (t: number) => boolean
  /** The device ran dry: deeper from now on, once for each gap. */
  readonly ranDry: (t: number) => void
  /** True = it has been quiet for long: less deep from now on. */
  readonly calmed: (t: number) => boolean
}

/** `deep` = never the usual one. */
export const adaptiveDepth = (deep: boolean): Depth => {
  const least = deep ? 1 : 0
  let at: number = least
  let calm = CALM
  let since = Number.NEGATIVE_INFINITY
  let fell = Number.NEGATIVE_INFINITY
  let told = Number.NEGATIVE_INFINITY
  return {
    ms: () => DEPTHS[at] ?? DEPTHS[0],
    isNew: t => t - told >= ONE_GAP,
    ranDry: t => {
      since = t
      if (t - told < ONE_GAP) return
      told = t
      if (t - fell < calm) calm = Math.min(2 * calm, LONGEST_CALM)
      fell = Number.NEGATIVE_INFINITY
      at = Math.min(at + 1, DEPTHS.length - 1)
    },
    calmed: t => {
      if (at === least || t - since < calm) return false
      at--
      since = t
      fell = t
      return true
    },
  }
}

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
