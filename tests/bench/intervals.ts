/** What was counted so far. Milliseconds where a name says so. */
export type Count = {
  readonly clicks: number
  /** Intervals that are as long as was asked for, to the frame. */
  readonly exact: number
  /** Intervals that are too long: a gap lies in them. */
  readonly gaps: number
  readonly gapMs: number
  readonly worstGapMs: number
  /** Too short by any amount. */
  readonly short: number
  /** Clicks that were asked for and not heard. */
  readonly lost: number
  /** Largest and root mean square of the deviations of all intervals, ms. */
  readonly worstMs: number
  readonly rmsMs: number
}

/** A sound begins after so much silence; how loud it is, is known after LOOK. Seconds. */
const SILENCE = 0.02
const LOOK = 0.004

const total = (all: readonly number[]): number => all.reduce((sum, x) => sum + x, 0)

/**
 * Compares the distances of recorded clicks with those that were asked for, as the samples come in, in constant memory.
 * The first click of each program is louder than `loud`, so that a lost click, or one that a gap has made into two, is
 * counted once and does not shift what follows.
 */
export const intervals = (rate: number, loud: number) => {
  /** Distances within the programs that are still to be heard, from click to click and to the next program. */
  const programs: (readonly number[])[] = []
  let frame = 0
  let quiet = rate
  let begun: { at: number; peak: number } | null = null
  let last: number | null = null
  /** Clicks of the present program that were heard. */
  let heard = 0
  const n = {
    clicks: 0,
    exact: 0,
    gaps: 0,
    gapSum: 0,
    worstGap: 0,
    short: 0,
    worst: 0,
    square: 0,
    seen: 0,
    lost: 0,
  }
  const ms = (frames: number): number => +((1000 * frames) / rate).toFixed(3)

  const compare = (got: number, want: number): void => {
    const off = got - want
    n.seen++
    n.square += off * off
    n.worst = Math.max(n.worst, Math.abs(off))
    if (Math.abs(off) < 0.5) n.exact++
    else if (off > 0) {
      n.gaps++
      n.gapSum += off
      n.worstGap = Math.max(n.worstGap, off)
    } else n.short++
  }
  const click = (at: number, first: boolean): void => {
    const now = programs[0]
    const before = last
    if (before === null || now === undefined) {
      if (first) [last, heard, n.clicks] = [at, 1, n.clicks + 1]
      return
    }
    const want = now[heard - 1]
    // The rest of a click that a gap has made into two.
    if (!first && (want === undefined || at - before < want - 0.5)) {
      if (want !== undefined && at - before > 0.08 * rate) n.short++
      return
    }
    n.clicks++
    if (first) {
      // The beat is kept across a gap, so its length says how many programs were lost whole.
      let [due, lost] = [total(now.slice(heard - 1)), now.length - heard]
      programs.shift()
      for (let next = programs[0]; next; next = programs[0]) {
        if (Math.abs(at - before - due) <= Math.abs(at - before - due - total(next))) break
        due += total(next)
        lost += next.length
        programs.shift()
      }
      n.lost += lost
      compare(at - before, due)
      heard = 1
    } else {
      if (want !== undefined) compare(at - before, want)
      heard++
    }
    last = at
  }
  return {
    /** Distances of the clicks of one program, in frames, the last one to the program behind it. */
    expect: (frames: readonly number[]): void => void programs.push(frames),
    sample: (s: number): void => {
      const size = Math.abs(s)
      if (begun) {
        begun.peak = Math.max(begun.peak, size)
        if (frame - begun.at >= LOOK * rate) {
          click(begun.at, begun.peak > loud)
          begun = null
        }
      }
      if (size > 10) {
        if (!begun && quiet >= SILENCE * rate) begun = { at: frame, peak: size }
        quiet = 0
      } else quiet++
      frame++
    },
    count: (): Count => ({
      clicks: n.clicks,
      exact: n.exact,
      gaps: n.gaps,
      gapMs: ms(n.gapSum),
      worstGapMs: ms(n.worstGap),
      short: n.short,
      lost: n.lost,
      worstMs: ms(n.worst),
      rmsMs: ms(Math.sqrt(n.square / Math.max(1, n.seen))),
    }),
  }
}
