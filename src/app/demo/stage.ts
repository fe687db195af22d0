import { inkStreams } from '../../terminal/ink-streams.ts'
import type { PlainTerminal } from '../../terminal/open-plain.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import type { Key } from '../../terminal/tokenizer.ts'
import type { Clock } from '../context.ts'

/** The usual size of a terminal, for which the practice screen is composed. */
export const SIZE = { rows: 24, cols: 80 } as const

/** A terminal that nobody looks at. */
export const emptyHall = (): Terminal => {
  const off = (): void => {}
  const unseen = inkStreams(() => SIZE, off).options
  return {
    size: () => SIZE,
    onKey: () => off,
    onResize: () => off,
    onResume: () => off,
    ink: unseen,
    patch: off,
    close: off,
  }
}

export type Stage<T> = {
  /** For the screen: it hears the scripted player's keys, and Ctrl+C at any key of the viewer. */
  readonly terminal: T
  readonly press: (key: string) => void
}

/** Puts a scripted player between the viewer's keyboard and the screen. `now` in monotonic ms. */
export const stageOn = <T extends Terminal | PlainTerminal>(terminal: T, now: () => number): Stage<T> => {
  const listeners = new Set<(key: Key) => void>()
  const press = (id: string): void => {
    for (const f of [...listeners]) f({ id, at: now() })
  }
  terminal.onKey(() => press('C-c'))
  const onKey = (f: (key: Key) => void): (() => void) => {
    listeners.add(f)
    return () => void listeners.delete(f)
  }
  return { terminal: { ...terminal, onKey }, press }
}

/** Longer than any demonstration, in virtual milliseconds: beyond it something waits for ever. */
const LONGEST = 600_000

export type VirtualTime = Clock & {
  /**
   * Runs the timers in order of their time, at once; between two of them all that is really under way settles (a write
   * to the disk), so that a run is the same each time. Ends when `until` does; throws Error when nothing is left to
   * wait for.
   */
  readonly run: (settled: () => Promise<void>, until: Promise<unknown>) => Promise<void>
}

/** A clock that stands still while anything is done. It begins at 0; its day and hour are those of `real`. */
export const virtualTime = (real: Pick<Clock, 'wall' | 'offset'>): VirtualTime => {
  const [begun, offset] = [real.wall(), real.offset()]
  const timers = new Map<number, { readonly at: number; readonly f: () => void }>()
  let t = 0
  let count = 0

  const quiet = async (settled: () => Promise<void>): Promise<void> => {
    await settled()
    await new Promise(resolve => setImmediate(resolve))
  }
  const earliest = (): number | undefined => {
    let found: number | undefined
    // In the order in which they were set, so that the first of two at one time stays the first.
    for (const [key, timer] of timers)
      if (found === undefined || timer.at < (timers.get(found)?.at ?? 0)) found = key
    return found
  }

  return {
    now: () => t,
    later: (ms, f) => {
      const key = ++count
      timers.set(key, { at: t + Math.max(0, ms), f })
      return () => void timers.delete(key)
    },
    wall: () => begun + t,
    offset: () => offset,
    real: false,
    run: async (settled, until) => {
      let over = false
      const end = (): void => {
        over = true
      }
      until.then(end, end)
      for (await quiet(settled); !over; await quiet(settled)) {
        const key = earliest()
        const timer = key === undefined ? undefined : timers.get(key)
        if (key === undefined || !timer || timer.at > LONGEST)
          throw new Error('virtual time has nothing left to wait for')
        timers.delete(key)
        t = timer.at
        timer.f()
      }
    },
  }
}
