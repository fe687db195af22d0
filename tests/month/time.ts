import type { Clock } from '../../src/app/context.ts'

/** From a moment on (ISO, UTC) a clock on the wall shows so many minutes east of Greenwich. */
export type Zone = { readonly from: string; readonly offset: number }

export type MonthTime = Clock & {
  /** Days pass, nobody plays. To a moment of the wall clock, milliseconds since 1970; never down. */
  readonly jump: (wall: number) => void
  /** Runs the timers in order of their time until `until` is settled; all that goes to the disk takes no time. */
  readonly run: <T>(until: Promise<T>) => Promise<T>
}

/** No visit and no warm-up lasts so long: beyond it something waits for ever. Milliseconds. */
const LONGEST = 3_600_000
/** Nothing to wait for in virtual time, but the real one still works (a module is being loaded). Microseconds of our own. */
const PATIENCE = 10_000_000

const turn = (): Promise<void> => new Promise(resolve => setImmediate(resolve))
const writing = (): boolean => process.getActiveResourcesInfo().some(r => /^(FSReq|CloseReq)/.test(r))

/** The one clock of a month: it stands still while anything is done, and until all is `settled`. */
export const monthTime = (
  begin: string,
  zones: readonly Zone[],
  settled: () => Promise<unknown> | null = () => null,
): MonthTime => {
  const begun = Date.parse(begin)
  const timers = new Map<number, { readonly at: number; readonly f: () => void }>()
  let [t, count] = [0, 0]

  const quiet = async (): Promise<void> => {
    await turn()
    while (writing()) await turn()
    for (let open = settled(); open !== null; open = settled()) {
      await open
      await turn()
    }
  }
  const earliest = (): number | undefined => {
    let [found, at] = [undefined as number | undefined, Number.POSITIVE_INFINITY]
    // In the order in which they were set, so that the first of two at one time stays the first.
    for (const [key, timer] of timers) if (timer.at < at) [found, at] = [key, timer.at]
    return found
  }
  const wall = (): number => begun + t

  return {
    now: () => t,
    later: (ms, f) => {
      const key = ++count
      timers.set(key, { at: t + Math.max(0, ms), f })
      return () => void timers.delete(key)
    },
    wall,
    offset: () => zones.findLast(z => Date.parse(z.from) <= wall())?.offset ?? 0,
    real: false,
    jump: to => {
      if (to < wall()) throw new Error(`time does not go back: ${new Date(to).toISOString()}`)
      timers.clear()
      t = to - begun
    },
    run: async until => {
      let over = false
      const end = (): void => {
        over = true
      }
      until.then(end, end)
      const [started, from] = [process.cpuUsage(), t]
      for (await quiet(); !over; await quiet()) {
        const key = earliest()
        const timer = key === undefined ? undefined : timers.get(key)
        if (key === undefined || !timer) {
          if (process.cpuUsage(started).user > PATIENCE) throw new Error('nothing is left to wait for')
          continue
        }
        if (timer.at > from + LONGEST) throw new Error('it waits for more than an hour')
        timers.delete(key)
        t = Math.max(t, timer.at)
        timer.f()
      }
      return until
    },
  }
}
