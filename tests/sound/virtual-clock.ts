import type { Ticking } from '../../src/sound/silent.ts'

/** A clock that stands still until it is moved; timers fire in order on the way. */
export const virtualClock = (start = 0): Ticking & { pass(ms: number): void } => {
  let t = start
  let n = 0
  const timers = new Map<number, { at: number; f: () => void }>()
  return {
    now: () => t,
    later: (ms, f) => {
      const key = n++
      timers.set(key, { at: t + ms, f })
      return () => timers.delete(key)
    },
    pass: ms => {
      const end = t + ms
      for (;;) {
        const due = [...timers].sort(([a, x], [b, y]) => x.at - y.at || a - b)[0]
        if (!due || due[1].at > end) break
        timers.delete(due[0])
        t = Math.max(t, due[1].at)
        due[1].f()
      }
      t = end
    },
  }
}
