import { fitLine } from '../line.ts'
import { framesOf, msOf, RATE } from '../stream.ts'
import { named, type OpenOutput, SETTLED } from './output.ts'

/** Frames of one callback of the device. */
const CALLBACK = 1024
/** Blocks in the queue between us and the callback. A block is taken when the callback begins another one. */
const QUEUE = 6
/** From the queue's end to the ear with this length of callback, ms (measured). */
const EXTRA = 51
/** The device asks once in 21 ms, and unevenly on a busy computer: what is later than this is a gap, ms. */
const SLIP = 18
/** Length of a block for a depth, frames: the queue is deeper with longer blocks. 10 ms, 21 ms, 50 ms. */
const blockFor = (ms: number): number => (ms <= 100 ? framesOf(10) : framesOf((ms - EXTRA) / (QUEUE + 1)))

/** Devices that can play, as PortAudio names them. */
export const naudiodonDevices = async (): Promise<readonly string[]> => {
  const { getDevices } = await import('naudiodon')
  return getDevices().flatMap(d => (d.maxOutputChannels > 0 ? [d.name] : []))
}

const idOf = async (device: string | null): Promise<number> => {
  if (device === null) return -1
  const { getDevices } = await import('naudiodon')
  const players = getDevices().filter(d => d.maxOutputChannels > 0)
  return named(players, device, d => d.name).id
}

/** PortAudio, on Linux, macOS and Windows. */
export const openNaudiodon: OpenOutput = async ({ depth, device, now, pull, dry, failed }) => {
  const { AudioIO, SampleFormat16Bit } = await import('naudiodon')
  const out = AudioIO({
    outOptions: {
      deviceId: await idOf(device),
      channelCount: 2,
      sampleFormat: SampleFormat16Bit,
      sampleRate: RATE,
      framesPerBuffer: CALLBACK,
      maxQueue: QUEUE,
      closeOnError: false,
    },
  })
  const line = fitLine(SLIP)
  let handed = 0
  let open = true
  /** Lengths of the blocks in the queue, the newest last. */
  let queued: number[] = Array.from({ length: QUEUE + 1 }, () => blockFor(depth.ms()))
  const depthMs = (): number => msOf(queued.reduce((sum, b) => sum + b, 0)) + EXTRA

  await new Promise<void>((resolve, reject) => {
    out.on('error', e => {
      failed(String(e))
      reject(e)
    })
    /** One block at a time; the next when the queue has taken it. */
    const feed = (): void => {
      if (!open) return
      const t = now()
      const ranDry = line.gap(handed, t)
      if (ranDry) depth.ranDry(t)
      else depth.calmed(t)
      const block = blockFor(depth.ms())
      const pcm = new Int16Array(2 * block)
      pull(pcm)
      handed += block
      queued = [...queued.slice(1), block]
      if (ranDry) dry(line.from())
      out.write(Buffer.from(pcm.buffer), () => {
        if (handed > SETTLED) {
          line.see(handed, now() + depthMs())
          resolve()
        }
        feed()
      })
    }
    out.start()
    feed()
  })
  return {
    name: 'naudiodon',
    depthMs,
    heardAt: line.at,
    lineFrom: line.from,
    close: () => {
      open = false
    },
  }
}
