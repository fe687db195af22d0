/** Slowest and fastest tempo that is found by tapping, in taps a minute. */
const SLOWEST_TAPS = 20
const FASTEST_TAPS = 300

const LONGEST = 60_000 / SLOWEST_TAPS
const SHORTEST = 60_000 / FASTEST_TAPS
/** A key that is held repeats faster than this, and no foot taps so fast. Milliseconds. */
const REPEAT = 120
/** Intervals that are looked at: enough to even out a hand, few enough to follow a new tempo. */
const LATEST = 7
/** Agreement: an interval that differs by more than this part was a tap too many or too few. */
const NEAR = 0.25
/** After so many beats without a tap the next one begins anew. */
const MISSED = 3

/** Intervals between the taps so far, in ms, oldest first. */
export type Taps = {
  readonly intervals: readonly number[]
  /** The last tap that counted, and the last key event at all; null before the first. Milliseconds. */
  readonly last: number | null
  readonly event: number | null
}

export const noTaps: Taps = { intervals: [], last: null, event: null }

/** Of an even number the lower one: a missed tap makes an interval too long, never too short. */
const median = (all: readonly number[]): number | null => {
  const sorted = [...all].sort((a, b) => a - b)
  return sorted[(sorted.length - 1) >> 1] ?? null
}

const agreeing = (all: readonly number[]): readonly number[] => {
  const middle = median(all)
  return middle === null ? [] : all.filter(i => Math.abs(i - middle) <= NEAR * middle)
}

/** A tap at `t` (ms, monotonic). Repeats of a held key are none; after a pause it is the first of a new series. */
export const tap = (taps: Taps, t: number): Taps => {
  const { last, event, intervals } = taps
  if (last === null || event === null) return { intervals: [], last: t, event: t }
  if (t - event < REPEAT) return { ...taps, event: t }
  const passed = t - last
  const beat = median(agreeing(intervals))
  if (passed > LONGEST || (beat !== null && intervals.length > 1 && passed > MISSED * beat))
    return { intervals: [], last: t, event: t }
  return { intervals: [...intervals, passed].slice(-LATEST), last: t, event: t }
}

/** Taps of this series. */
export const tapCount = (taps: Taps): number => (taps.last === null ? 0 : taps.intervals.length + 1)

/** The median of the intervals that agree, in taps a minute; null until three taps agree, or out of range. */
export const tappedTempo = (taps: Taps): number | null => {
  const kept = agreeing(taps.intervals)
  const beat = kept.length < 2 ? null : median(kept)
  return beat === null || beat > LONGEST || beat < SHORTEST ? null : 60_000 / beat
}
