import { RATE } from '../stream.ts'
import { named, type OpenOutput } from './output.ts'
import { keepPace, pace } from './paced.ts'
import { alsaDevices } from './system-devices.ts'

/** Between the device's own buffer and the ear, ms. */
const EXTRA = 1

/** Loading the module ends the whole process where there is no device: only ever in a process of its own. */
export const openSpeaker: OpenOutput = async deps => {
  const device = deps.device === null ? {} : { device: named(await alsaDevices(), deps.device, name => name) }
  const { default: Speaker } = await import('speaker')
  const out = new Speaker({ channels: 2, bitDepth: 16, sampleRate: RATE, ...device })
  const p = pace(deps, (block, taken) => out.write(Buffer.from(block.buffer), e => e ?? taken()), EXTRA)
  let stop = (): void => {}
  const broken = new Promise<never>((_, reject) => {
    out.on('error', e => {
      stop()
      deps.failed(e.message)
      reject(e)
    })
  })
  // The first write opens the device. A millisecond of silence does it before the clock starts.
  await Promise.race([new Promise(resolve => out.write(Buffer.alloc(4 * 48), resolve)), broken])
  const pacing = keepPace(p)
  stop = pacing.stop
  await Promise.race([pacing.settled, broken])
  // Closing would wait for the device; the end of the process does it.
  return { name: 'speaker', depthMs: p.depthMs, heardAt: p.line.at, lineFrom: p.line.from, close: stop }
}
