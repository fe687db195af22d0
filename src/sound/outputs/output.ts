import type { Depth } from '../depth.ts'
import { framesOf } from '../stream.ts'

/** Every way to a loudspeaker, in the order in which they are tried. */
export const DEVICES = ['naudiodon', 'audio-io', 'pacat', 'aplay', 'speaker'] as const
export type Device = (typeof DEVICES)[number]
export type OutputName = Device | 'silent'

/**
 * An output is open when it has taken this much silence, in frames: more than any buffer before the device, so the
 * device works; and no click can be lost in the first milliseconds, which some devices clip.
 */
export const SETTLED = framesOf(200)

/** What an output is given. */
export type Deps = {
  /** How far ahead to hand over; told of every gap. */
  readonly depth: Depth
  /** A part of the name of the device to play through; null = the system's own choice. */
  readonly device: string | null
  /** Monotonic ms. */
  readonly now: () => number
  /** Fills `out` (interleaved stereo) with the next frames of the stream. Never throws. */
  readonly pull: (out: Int16Array) => void
  /** Does nothing sound in these frames of the stream? */
  readonly silentIn: (from: number, to: number) => boolean
  /** The device ran dry: frames from `frame` on are heard later than foretold. */
  readonly dry: (frame: number) => void
  /** The output takes nothing more. */
  readonly failed: (reason: string) => void
  /** A process that has to end with this one, however this one ends. */
  readonly owns: (pid: number) => void
}

/** An open output; it has taken frames and pulls by itself. */
export type Output = {
  readonly name: Device
  /** From handing a frame over to hearing it, ms. */
  readonly depthMs: () => number
  /** When a frame of the stream is heard, monotonic ms; foretold for frames not yet handed over. */
  readonly heardAt: (frame: number) => number | null
  /** First frame of the line on which heardAt lies. */
  readonly lineFrom: () => number
  readonly close: () => void
}

/** Rejects with an Error that says why it does not work. Resolves when SETTLED frames have been taken. */
export type OpenOutput = (deps: Deps) => Promise<Output>

/** The first whose name holds what was asked for, in capitals or not. Throws when there is none. */
export const named = <T>(all: readonly T[], wanted: string, nameOf: (one: T) => string): T => {
  const found = all.find(one => nameOf(one).toLowerCase().includes(wanted.toLowerCase()))
  if (found === undefined) throw new Error(`no such device: ${wanted}`)
  return found
}
