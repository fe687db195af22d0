/** Monotonic milliseconds, and a timer on the same clock that can be called off. */
export type Timing = {
  readonly now: () => number
  readonly later: (ms: number, f: () => void) => () => void
  /** Milliseconds since 1970; goes on while the computer sleeps, which `now` does not on every system. */
  readonly wall: () => number
  /** A clock for tests may run so many times as fast as the machine; absent = 1. */
  readonly speed?: number
}

/** A tick that comes later than this was not late but asleep (a closed lid, a stopped process). Milliseconds. */
const ASLEEP = 1500
const TICK = 500

/**
 * Calls `woke` when the computer or the process has slept, until it is called off. Where the monotonic clock stands still
 * in sleep (CLOCK_MONOTONIC of Linux), the wall clock tells; one that is set ahead is taken for a sleep too.
 */
export const watchSleep = (timing: Timing, woke: () => void): (() => void) => {
  // A busy machine is as late on a fast clock as on a slow one.
  const asleep = ASLEEP * (timing.speed ?? 1)
  let [ticked, day] = [timing.now(), timing.wall()]
  let stop = (): void => {}
  const tick = (): void => {
    const late = Math.max(timing.now() - ticked, timing.wall() - day) - TICK
    ;[ticked, day] = [timing.now(), timing.wall()]
    stop = timing.later(TICK, tick)
    if (late > asleep) woke()
  }
  stop = timing.later(TICK, tick)
  return () => stop()
}
