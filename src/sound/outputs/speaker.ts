import { framesOf, RATE } from '../stream.ts'
import type { OpenOutput } from './output.ts'
import { keepPace, pace } from './paced.ts'

/** Between the device's own buffer and the ear, ms. */
const EXTRA = 1

/** Loading the module ends the whole process where there is no device: only ever in a process of its own. */
export const openSpeaker: OpenOutput = async deps => {
  const { default: Speaker } = await import('speaker')
  const out = new Speaker({ channels: 2, bitDepth: 16, sampleRate: RATE, highWaterMark: 4 * framesOf(500) })
  const p = pace(deps, (block, taken) => out.write(Buffer.from(block.buffer), e => e ?? taken()), EXTRA)
  const { settled, stop } = keepPace(p)
  await Promise.race([
    settled,
    new Promise((_, reject) => {
      out.on('error', e => {
        stop()
        deps.failed(e.message)
        reject(e)
      })
    }),
  ])
  // Closing would wait for the device; the end of the process does it.
  return {
    name: 'speaker',
    depthMs: p.depthMs,
    heardAt: p.line.at,
    lineFrom: p.line.from,
    close: stop,
  }
}
