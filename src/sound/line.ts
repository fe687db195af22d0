import { msOf, RATE } from './stream.ts'

/** Milliseconds over which the fit looks back. */
const WINDOW = 2000

export type Line = {
  /** Frame `frame` is expected to be heard at `heardAt` (monotonic ms). */
  see(frame: number, heardAt: number): void
  /** A new line from this frame on: what was seen before says nothing about it. */
  restart(from: number): void
  /** When a frame is heard, or null before anything was seen. */
  at(frame: number): number | null
  /** First frame for which the line holds. */
  from(): number
}

/**
 * Frame to time. The slope is the rate (a sound card is off by less than 0.1 ms in the window), the offset is the
 * median of the last two seconds, so single late wake-ups do not move it.
 */
export const fitLine = (): Line => {
  let from = 0
  let seen: { at: number; offset: number }[] = []
  return {
    see: (frame, heardAt) => {
      seen.push({ at: heardAt, offset: heardAt - msOf(frame) })
      if ((seen[0]?.at ?? heardAt) < heardAt - 2 * WINDOW) seen = seen.filter(s => s.at >= heardAt - WINDOW)
    },
    restart: frame => {
      from = frame
      seen = []
    },
    at: frame => {
      const newest = seen[seen.length - 1]
      if (!newest) return null
      const offsets = seen.filter(s => s.at >= newest.at - WINDOW).map(s => s.offset)
      offsets.sort((a, b) => a - b)
      return (offsets[offsets.length >> 1] ?? newest.offset) + msOf(frame)
    },
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

/** All lines of one stream, for looking up frames before and after an underrun: each keeps the line it was heard on. */
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
