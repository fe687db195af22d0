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
  /** Clicks that were not heard, between two that were: the beat was kept across a gap. */
  readonly lost: number
  /** Largest and root mean square of the deviations of all intervals, ms. */
  readonly worstMs: number
  readonly rmsMs: number
}

/** So near to a click that was asked for, it is that one. Seconds. */
const NEAR = 0.04

/**
 * Compares the distances of recorded clicks with those that were asked for, as the samples come in, in constant memory.
 * A sound begins after 20 ms of silence. A gap inside a click makes two of one: they are taken together again.
 */
export const intervals = (rate: number) => {
  let frame = 0
  let quiet = rate
  let last: number | null = null
  const wanted: number[] = []
  let [clicks, exact, gaps, gapSum, worstGap, short, worst, square, seen, lost] = [
    0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
  ]
  const ms = (frames: number): number => +((1000 * frames) / rate).toFixed(3)

  const onset = (at: number): void => {
    const before = last
    if (before === null) {
      clicks++
      last = at
      return
    }
    if (wanted[0] === undefined) return
    let [want, missed] = [wanted[0], 0]
    for (let [sum, k] = [want, 1]; k < wanted.length && sum < at - before + NEAR * rate; k++) {
      sum += wanted[k] ?? 0
      if (Math.abs(at - before - sum) < NEAR * rate) [want, missed] = [sum, k]
    }
    const off = at - before - want
    // Whatever begins within 60 ms of a click is the rest of it.
    if (off < 0 && at - before < 0.06 * rate) return
    clicks++
    wanted.splice(0, 1 + missed)
    lost += missed
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
    count: (): Count => ({
      clicks,
      exact,
      gaps,
      gapMs: ms(gapSum),
      worstGapMs: ms(worstGap),
      short,
      lost,
      worstMs: ms(worst),
      rmsMs: ms(Math.sqrt(square / Math.max(1, seen))),
    }),
  }
}
