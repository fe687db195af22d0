import type { SlotTime } from './session.ts'

/** Seconds that a slot may go on until its rung is decided, whole minutes; the plan counts on it. */
export const OVER = 60
/** "Two more minutes." */
export const MORE = 2

/** The time of a slot. It begins with the first press and runs through all that is played in the slot. */
export type SlotClock = {
  readonly begin: () => void
  readonly is: () => SlotTime
  /** Whole minutes, begun ones too; 0 when the time is over. */
  readonly minutesLeft: () => number
  /** From now on so many minutes more. */
  readonly more: (minutes: number) => void
  /** Called at each whole minute, when the time is over, and a minute after that. */
  readonly watch: (f: () => void) => () => void
}

type Timing = { readonly now: () => number; readonly later: (ms: number, f: () => void) => () => void }

/** `timing` in monotonic milliseconds. */
export const slotClock = (timing: Timing, minutes: number): SlotClock => {
  let end: number | null = null
  const watchers = new Set<() => void>()
  let stop = (): void => {}

  const left = (): number => (end === null ? minutes * 60_000 : end - timing.now())
  const is = (): SlotTime => (left() > 0 ? 'left' : left() > -OVER * 1000 ? 'over' : 'late')
  /** Milliseconds until there is something to tell; null = never again. */
  const next = (): number | null => {
    const ms = left() + OVER * 1000
    return ms > 0 ? ms % 60_000 || 60_000 : null
  }
  const arm = (): void => {
    stop()
    const ms = end === null ? null : next()
    if (ms === null || watchers.size === 0) return
    stop = timing.later(ms, () => {
      for (const f of [...watchers]) f()
      arm()
    })
  }
  return {
    is,
    minutesLeft: () => Math.max(0, Math.ceil(left() / 60_000)),
    begin: () => {
      if (end !== null) return
      end = timing.now() + minutes * 60_000
      arm()
    },
    more: by => {
      end = timing.now() + by * 60_000
      arm()
    },
    watch: f => {
      watchers.add(f)
      arm()
      return () => {
        watchers.delete(f)
        if (watchers.size === 0) stop()
      }
    },
  }
}
