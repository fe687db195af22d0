import type { Placed } from '../click/program.ts'
import { FADE, renderer } from '../click/render.ts'
import type { Levels } from '../click/voices.ts'
import { ok, problem, type Result } from '../music/result.ts'

/** A sound file ready to be written. `chunks` are its bytes in order: the header, then blocks of samples. */
export type Wav = {
  readonly frames: number
  readonly bytes: number
  readonly chunks: () => Generator<Buffer, void>
}

export type WavOptions = {
  /** Frames a second, as in the programs. */
  readonly rate: number
  /** 1, or 2 with the same sound on both sides. */
  readonly channels: 1 | 2
  readonly levels: Levels
  /** Exact length; as it comes, up to the end of the last program. */
  readonly frames?: number
}

const HEADER = 44
const BYTES = 2
/** Frames rendered at once: small pieces cost more in handing over than in sound. */
const BLOCK = 65_536

/**
 * A RIFF/WAVE header for 16-bit PCM. Source: Multimedia Programming Interface and Data Specifications 1.0, IBM and
 * Microsoft, August 1991 (from memory); read back in tests/exchange by two independent readers.
 */
const header = (rate: number, channels: number, data: number): Buffer => {
  const b = Buffer.alloc(HEADER)
  b.write('RIFF', 0)
  b.writeUInt32LE(HEADER - 8 + data, 4)
  b.write('WAVEfmt ', 8)
  b.writeUInt32LE(16, 16)
  b.writeUInt16LE(1, 20)
  b.writeUInt16LE(channels, 22)
  b.writeUInt32LE(rate, 24)
  b.writeUInt32LE(rate * channels * BYTES, 28)
  b.writeUInt16LE(channels * BYTES, 32)
  b.writeUInt16LE(8 * BYTES, 34)
  b.write('data', 36)
  b.writeUInt32LE(data, 40)
  return b
}

/** First frame after everything that is on the timeline. */
const endOf = (timeline: readonly Placed[], rate: number): number =>
  timeline.reduce(
    (end, p) =>
      Math.max(end, p.cut === undefined ? p.at + p.program.frames : p.cut + Math.round(FADE * rate)),
    0,
  )

/**
 * A timeline as a WAV file, exact to the frame. Refuses what the format cannot hold (4 GiB: six hours of 48 kHz stereo).
 * Throws RangeError for programs compiled at another rate.
 */
export const wavOf = (timeline: readonly Placed[], o: WavOptions): Result<Wav> => {
  const { rate, channels } = o
  if (timeline.some(p => p.program.rate !== rate)) throw new RangeError('programs at another rate')
  const frames = o.frames ?? endOf(timeline, rate)
  const data = frames * channels * BYTES
  const most = Math.floor((0xffff_ffff - HEADER + 8) / (channels * BYTES))
  if (frames > most)
    return problem(
      'length of the sound file',
      `${Math.round(frames / rate / 60)} minutes`,
      `at most ${Math.floor(most / rate / 60)} minutes in one file`,
    )
  const chunks = function* (): Generator<Buffer, void> {
    yield header(rate, channels, data)
    const render = renderer(rate, o.levels, channels)
    for (let from = 0; from < frames; from += BLOCK) {
      const block = new Int16Array(Math.min(BLOCK, frames - from) * channels)
      render(timeline, from, block)
      yield Buffer.from(block.buffer)
    }
  }
  return ok({ frames, bytes: HEADER + data, chunks })
}
