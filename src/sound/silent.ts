import type { Player } from './player-process.ts'
import type { FromPlayer } from './protocol.ts'
import { framesOf, msOf } from './stream.ts'
import { emptyTimeline, handOver, join, place, stop, type TimelineStep } from './timeline.ts'

/** A clock and its timer, ms; `later` returns how to call it off. */
export type Ticking = {
  readonly now: () => number
  readonly later: (ms: number, f: () => void) => () => void
}

/**
 * Plays programs without a sound: the same timeline, moved by a clock instead of a device. Each frame is "heard" exactly
 * when the clock says so, and none is handed over before that, so a cut takes effect at once.
 */
export const silentPlayer = (o: Ticking, tell: (m: FromPlayer) => void): Player => {
  const start = o.now()
  let timeline = emptyTimeline
  let callOff = (): void => {}
  let closed = false

  const step = (s: TimelineStep): void => {
    timeline = s.timeline
    for (const h of s.happened) tell(h)
  }
  /** Hands over every frame up to the one that is heard now. */
  const advance = (): void => {
    // Half a frame of slack, against rounding in the clock.
    const due = Math.floor(((o.now() - start) * framesOf(1000)) / 1000 + 0.5) + 1
    if (due > timeline.next) step(handOver(timeline, due - timeline.next))
  }
  /** Wakes when the next program begins or ends. */
  const arm = (): void => {
    callOff()
    if (closed) return
    const ahead = timeline.items
      .flatMap(p => [p.at, p.cut ?? p.at + p.program.frames])
      .filter(f => f >= timeline.next)
    if (ahead.length === 0) return
    callOff = o.later(Math.max(0, start + msOf(Math.min(...ahead)) - o.now()), wake)
  }
  const wake = (): void => {
    advance()
    arm()
  }
  tell({ kind: 'clock', frame: 0, heardAt: start, from: 0 })
  return {
    send: m => {
      advance()
      if (m.kind === 'play') step(place(timeline, m.id, m.program, m.after))
      if (m.kind === 'join')
        step(join(timeline, m.programs, m.heardAt === null ? timeline.next : framesOf(m.heardAt - start)))
      if (m.kind === 'stop') step(stop(timeline))
      arm()
    },
    close: async () => {
      closed = true
      callOff()
    },
  }
}
