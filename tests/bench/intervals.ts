/** What was counted so far. Milliseconds where a name says so. */
export type Count = {
  readonly clicks: number
  readonly exact: number
  /** Intervals that are too long: a gap lies in them. */
  readonly gaps: number
  readonly gapMs: number
  readonly worstGapMs: number
  /** Too short by any amount. */
  readonly short: number
  /** Largest and root mean square of the deviations of all intervals, ms. */
  readonly worstMs: number
  readonly rmsMs: number
}

/**
 * Compares the distances of recorded clicks with those that were asked for, as the samples come in, in constant memory.
 * A sound begins after 20 ms of silence. A gap inside a click makes two of one: they are taken together again.
 */
export const intervals = (rate: number) => {
  let frame = 0
  let quiet = rate
  let last: number | null = null
  let wanted: number[] = []
  let [clicks, exact, gaps, gapSum, worstGap, short, worst, square, seen] = [0, 0, 0, 0, 0, 0, 0, 0, 0]
  const ms = (frames: number): number => +((1000 * frames) / rate).toFixed(3)

  const onset = (at: number): void => {
    const before = last
    if (before === null) {
      clicks++
      last = at
      return
    }
    const want = wanted[0]
    if (want === undefined) return
    const off = at - before - want
    // Whatever begins within 60 ms of a click is the rest of it.
    if (off < 0 && at - before < 0.06 * rate) return
    clicks++
    wanted.shift()
    last = at
    seen++
    square += off * off
    worst = Math.max(worst, Math.abs(off))
    if (Math.abs(off) < 0.5) exact++
    else if (off > 0) {
      gaps++
      gapSum += off
      worstGap = Math.max(worstGap, off)
    } else short++
  }
  return {
    /** Distances of the clicks that follow, in frames, in order. */
    expect: (frames: readonly number[]): void => void wanted.push(...frames),
    sample: (s: number): void => {
      if (s > 10 || s < -10) {
        if (quiet >= 0.02 * rate) onset(frame)
        quiet = 0
      } else quiet++
      frame++
    },
    /** All that was asked for is gone; the next click is a first one. */
    anew: (): void => {
      wanted = []
      last = null
    },
    count: (): Count => ({
      clicks,
      exact,
      gaps,
      gapMs: ms(gapSum),
      worstGapMs: ms(worstGap),
      short,
      worstMs: ms(worst),
      rmsMs: ms(Math.sqrt(square / Math.max(1, seen))),
    }),
  }
}
