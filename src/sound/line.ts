import { msOf, RATE } from './stream.ts'

/** Milliseconds over which the fit looks back. */
const WINDOW = 2000
/** Looks of this many milliseconds are compared with those before them, and by so much later is a gap and no chance. */
const RECENT = 400
const SLIP = 6

export type Line = {
  /** Frame `frame` is expected to be heard at `heardAt` (monotonic ms). */
  see(frame: number, heardAt: number): void
  /** A new line from this frame on: what was seen before says nothing about it. */
  restart(from: number): void
  /**
   * Has the device been silent for a moment? Either all that was handed over has been heard (`next` = next frame, `t` =
   * now), or even the earliest of the latest looks is late: the device itself was held up. Starts a new line then.
   */
  gap(next: number, t: number): boolean
  /** When a frame is heard, or null before anything was seen. */
  at(frame: number): number | null
  /** First frame for which the line holds. */
  from(): number
}

/**
 * Frame to time. The slope is the rate (a sound card is off by less than 0.1 ms in the window), the offset is the
 * median of the last two seconds, so single late wake-ups do not move it. `slip`: what is later than this is a gap, ms.
 */
export const fitLine = (slip = SLIP): Line => {
  let from = 0
  let seen: { frame: number; at: number; offset: number }[] = []

  const since = (ms: number) => {
    const newest = seen[seen.length - 1]?.at ?? 0
    return seen.filter(s => s.at >= newest - ms)
  }
  const restart = (frame: number): void => {
    from = frame
    seen = seen.filter(s => s.frame > frame)
  }
  const at = (frame: number): number | null => {
    const offsets = since(WINDOW).map(s => s.offset)
    offsets.sort((a, b) => a - b)
    const median = offsets[offsets.length >> 1]
    return median === undefined ? null : median + msOf(frame)
  }
  /** The frame from which on the looks are late, if they are. */
  const slipped = (): number | null => {
    const recent = since(RECENT)
    const older = seen.slice(0, seen.length - recent.length)
    const first = recent[0]
    if (!first || !older[0] || first.at - older[0].at < RECENT) return null
    const earliest = (of: typeof seen): number =>
      of.reduce((m, s) => Math.min(m, s.offset), Number.POSITIVE_INFINITY)
    return earliest(recent) > earliest(older) + slip ? first.frame - 1 : null
  }
  return {
    see: (frame, heardAt) => {
      seen.push({ frame, at: heardAt, offset: heardAt - msOf(frame) })
      if ((seen[0]?.at ?? heardAt) < heardAt - 2 * WINDOW) seen = since(WINDOW)
    },
    restart,
    gap: (next, t) => {
      const last = at(next)
      const begin = last !== null && last < t ? next : slipped()
      if (begin === null) return false
      restart(begin)
      return true
    },
    at,
    from: () => from,
  }
}

export type Lines = {
  /** The newest word on the line that begins at frame `from`. */
  set(from: number, frame: number, heardAt: number): void
  heardAt(frame: number): number | null
  /** Which frame is heard at this time; inverse of heardAt. */
  frameAt(t: number): number | null
}

/** Lines that are remembered: a program is heard on the last few. */
const LINES = 32

/** The lines of one stream, for looking up frames before and after an underrun: each keeps the line it was heard on. */
export const streamLines = (): Lines => {
  const lines: { from: number; offset: number }[] = []
  /** The last line that fits, else the first one, continued backwards. */
  const pick = (fits: (l: { from: number; offset: number }) => boolean) => lines.findLast(fits) ?? lines[0]
  return {
    set: (from, frame, heardAt) => {
      const offset = heardAt - msOf(frame)
      const known = lines.find(l => l.from === from)
      if (known) known.offset = offset
      else lines.push({ from, offset })
      if (lines.length > LINES) lines.shift()
    },
    heardAt: frame => {
      const line = pick(l => l.from <= frame)
      return line ? line.offset + msOf(frame) : null
    },
    frameAt: t => {
      const line = pick(l => l.offset + msOf(l.from) <= t)
      return line ? Math.round(((t - line.offset) * RATE) / 1000) : null
    },
  }
}
