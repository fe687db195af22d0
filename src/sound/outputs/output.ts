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

/** How far ahead frames are handed over, ms; the deep one once the machine has shown that it wakes up late. */
export const AHEAD = 100
export const AHEAD_DEEP = 200

/** What an output is given. */
export type Deps = {
  /** Hand over far ahead from the first frame on. */
  readonly deep: boolean
  /** Monotonic ms. */
  readonly now: () => number
  /** Fills `out` (interleaved stereo) with the next frames of the stream. Never throws. */
  readonly pull: (out: Int16Array) => void
  /** The device ran dry: frames from `frame` on are heard later than foretold. */
  readonly dry: (frame: number) => void
  /** The output takes nothing more. */
  readonly failed: (reason: string) => void
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
