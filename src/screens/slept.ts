/** Monotonic milliseconds, and a timer on the same clock that can be called off. */
export type Timing = {
  readonly now: () => number
  readonly later: (ms: number, f: () => void) => () => void
  /** A clock for tests may run so many times as fast as the machine; absent = 1. */
  readonly speed?: number
}

/** A tick that comes later than this was not late but asleep (a closed lid, a stopped process). Milliseconds. */
const ASLEEP = 1500
const TICK = 500

/** Calls `woke` when the computer or the process has slept, until it is called off. */
export const watchSleep = (timing: Timing, woke: () => void): (() => void) => {
  // A busy machine is as late on a fast clock as on a slow one.
  const asleep = ASLEEP * (timing.speed ?? 1)
  let ticked = timing.now()
  let stop = (): void => {}
  const tick = (): void => {
    const late = timing.now() - ticked - TICK
    ticked = timing.now()
    stop = timing.later(TICK, tick)
    if (late > asleep) woke()
  }
  stop = timing.later(TICK, tick)
  return () => stop()
}
