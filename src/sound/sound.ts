import type { Program } from '../click/program.ts'
import type { Levels } from '../click/voices.ts'
import { type Lines, streamLines } from './line.ts'
import type { OutputName } from './outputs/output.ts'
import type { PlayerFault } from './player-process.ts'
import type { FromPlayer } from './protocol.ts'

export type SoundEvent =
  /**
   * The program's first frames are on their way (heard about a tenth of a second later): heardAt answers from now on.
   * `frame` is where it begins in the output's stream.
   */
  | { readonly kind: 'started'; readonly id: number; readonly frame: number }
  /** `frame` counts from the program's start; 0 = it never began. */
  | { readonly kind: 'cut'; readonly id: number; readonly frame: number }
  /**
   * underrun: a gap in the sound, which goes on. gone, stalled: the output has failed; what was asked for goes on in the
   * next one, at the moment at which it would have been heard, unless it is stopped before that.
   */
  | { readonly kind: 'trouble'; readonly what: 'underrun' | PlayerFault; readonly output: OutputName }
  /** Another output plays from now on, or the same one anew: the silent clock where nothing works. */
  | { readonly kind: 'output'; readonly name: OutputName }

/** The sound as the rest of the program sees it. All times are monotonic ms, the user's offset included. */
export type Sound = {
  /** Resolves when something plays: an output, or the silent clock for as long as none works. */
  ready(): Promise<void>
  /** The one in use; silent while none has been found yet. */
  output(): OutputName
  /** Where it is heard, as the system calls it; null = it does not say. */
  device(): string | null
  /** The device that was chosen and is not there; null = it is, or none was. */
  absent(): string | null
  /** Outputs that were tried and do not work, each with a plain reason. */
  refused(): readonly { readonly name: OutputName; readonly why: string }[]
  /**
   * Plays a program now, or exactly where another one ends; what lay behind that one is replaced. Returns its id.
   * Throws RangeError for a rate other than 48000.
   */
  play(p: Program, after: 'now' | number): number
  /** Cuts at the first frame not yet handed over, and forgets what is queued. */
  stop(): void
  levels(l: Levels): void
  /** When that frame of the program is heard; null if it has not begun or is never heard. */
  heardAt(id: number, frame: number): number | null
  /** Which frame of the program is heard at that time; null if it has not begun. */
  frameAt(id: number, t: number): number | null
  /** Returns how to stop listening. */
  on(f: (e: SoundEvent) => void): () => void
  close(): Promise<void>
}

/** Programs whose times are remembered. */
const REMEMBERED = 64

type Begun = { readonly lines: Lines; readonly offset: number; readonly at: number; cut: number }

export type Book = {
  /** Takes in what a player says and returns what the listeners are told. */
  enter(m: FromPlayer, output: OutputName): SoundEvent | null
  /** A new stream, heard `offset` ms later than it says: earlier programs keep the times at which they were heard. */
  begin(offset: number): void
  /** The same stream, heard `offset` ms later than it says from the next program on. */
  move(offset: number): void
  heardAt: Sound['heardAt']
  frameAt: Sound['frameAt']
}

/** Which program began at which frame of which stream, and when that is heard. */
export const book = (): Book => {
  let lines = streamLines()
  let offset = 0
  const begun = new Map<number, Begun>()
  return {
    enter: (m, output) => {
      if (m.kind === 'clock') lines.set(m.from, m.frame, m.heardAt)
      if (m.kind === 'trouble') return { kind: 'trouble', what: m.what, output }
      if (m.kind === 'started') {
        // One that goes on in this stream began in another one, which was told then.
        const known = begun.has(m.id)
        begun.set(m.id, { lines, offset, at: m.frame, cut: Number.POSITIVE_INFINITY })
        if (begun.size > REMEMBERED) begun.delete(Math.min(...begun.keys()))
        return known ? null : m
      }
      if (m.kind === 'cut') {
        const b = begun.get(m.id)
        if (b) b.cut = m.frame
        return m
      }
      return null
    },
    begin: later => {
      lines = streamLines()
      offset = later
    },
    move: later => {
      offset = later
    },
    heardAt: (id, frame) => {
      const b = begun.get(id)
      const t = b && frame < b.cut ? b.lines.heardAt(b.at + frame) : null
      return b && t !== null ? t + b.offset : null
    },
    frameAt: (id, t) => {
      const b = begun.get(id)
      const f = b?.lines.frameAt(t - b.offset) ?? null
      return b && f !== null ? f - b.at : null
    },
  }
}
