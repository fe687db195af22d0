import { fitLine, type Line } from '../line.ts'
import { BLOCK, framesOf, msOf } from '../stream.ts'
import { type Deps, SETTLED } from './output.ts'

/** Between looks at the clock, ms. */
const WAKE = 5
/** A device that says nothing of itself is left to run dry so often, ms, where nothing sounds, and for so long. */
const ANEW = 30_000
const REST = 150
/** What a device says of that comes within this time, ms. */
const ONE_MOMENT = 1000
/** Frames written and not yet taken; more are not sent, so a device that stands still is noticed. */
const MOST_PENDING = framesOf(100)
export type Pace = {
  readonly line: Line
  /** Frames taken by the device. */
  readonly taken: () => number
  readonly depthMs: () => number
  /** Call often: hands over what the clock asks for. */
  readonly wake: () => void
  /** The device's own word: this frame is heard at this time (monotonic ms). */
  readonly heard: (frame: number, at: number) => void
  /** The device's own word: it ran dry. */
  readonly ranDry: () => void
}

/**
 * Hands frames over by the clock, for devices that would take half a second of sound at once. `extra` = ms that the
 * device adds between its own buffer and the ear. After an underrun everything is counted from there anew: otherwise the
 * device would stay late by the length of the gap for ever.
 */
export const pace = (
  deps: Pick<Deps, 'depth' | 'now' | 'pull' | 'silentIn' | 'dry'>,
  write: (block: Int16Array, taken: () => void) => void,
  extra: number,
): Pace => {
  const line = fitLine()
  /** The device's buffer gives out frame `frame` at `at`. */
  let anchor: { frame: number; at: number } | null = null
  let handed = 0
  let taken = 0
  let listens = false
  let anchored = deps.now()
  /** When the device has certainly run dry, where it is left to; null = it is not. */
  let rested: number | null = null
  let gap = false

  /**
   * A device is late by every moment for which it was held up, and its clock may be slow: sound would lag more and more,
   * and nothing says so. Where nothing sounds it is left to run dry, and what was due meanwhile is left out.
   */
  const rests = (t: number): boolean => {
    const until = anchor ? anchor.at + msOf(handed - anchor.frame) + REST : t
    if (rested === null) {
      const silence = framesOf(deps.depth.ms() + 2 * REST)
      if (listens || t - anchored < ANEW || !deps.silentIn(handed - silence, handed + silence)) return false
      rested = until
    }
    if (t < rested) return true
    const due = line.at(handed)
    for (let left = due === null ? 0 : framesOf(t + extra - due); left > 0; left -= BLOCK) {
      const skipped = Math.min(left, BLOCK)
      deps.pull(new Int16Array(2 * skipped))
      handed += skipped
      taken += skipped
    }
    anchor = { frame: handed, at: t }
    anchored = t
    rested = null
    return false
  }
  const wake = (): void => {
    const t = deps.now()
    anchor ??= { frame: 0, at: t }
    if (rests(t)) return
    if (anchor.at + msOf(handed - anchor.frame) < t && taken === handed) {
      anchor = { frame: handed, at: t }
      gap = taken >= SETTLED
    }
    if (gap) {
      deps.depth.ranDry(t)
      line.restart(handed)
    } else deps.depth.calmed(t)
    const ahead = deps.depth.ms()
    while (anchor.at + msOf(handed - anchor.frame) < t + ahead && handed - taken < MOST_PENDING) {
      const block = new Int16Array(2 * BLOCK)
      deps.pull(block)
      handed += BLOCK
      write(block, () => {
        taken += BLOCK
      })
    }
    if (!listens || line.at(handed) === null)
      line.see(handed, anchor.at + msOf(handed - anchor.frame) + extra)
    if (gap) deps.dry(line.from())
    gap = false
  }
  const heard = (frame: number, at: number): void => {
    // What is still heard from before an underrun says nothing about the new line.
    if (frame < line.from()) return
    listens = true
    line.see(frame, at)
    const fitted = line.at(frame)
    if (fitted !== null) anchor = { frame, at: fitted - extra }
  }
  /** One gap is told once: the clock sees most of them before the device says so. */
  const ranDry = (): void => {
    const left = rested !== null || deps.now() - anchored < ONE_MOMENT
    if (taken >= SETTLED && !left && deps.depth.isNew(deps.now())) gap = true
  }
  return { line, taken: () => taken, depthMs: () => deps.depth.ms() + extra, wake, heard, ranDry }
}

/** Wakes the pace until the device has taken enough, then resolves; goes on until `stop`. */
export const keepPace = (p: Pace): { settled: Promise<void>; stop: () => void } => {
  let timer: NodeJS.Timeout
  const settled = new Promise<void>(resolve => {
    timer = setInterval(() => {
      p.wake()
      if (p.taken() >= SETTLED && p.line.at(0) !== null) resolve()
    }, WAKE)
  })
  return { settled, stop: () => clearInterval(timer) }
}
