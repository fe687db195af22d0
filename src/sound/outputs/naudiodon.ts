import { fitLine } from '../line.ts'
import { BLOCK, msOf, RATE } from '../stream.ts'
import { type OpenOutput, SETTLED } from './output.ts'

/** Frames of one callback of the device. */
const CALLBACK = 1024
/** Blocks in the queue between us and the callback: 60 ms. */
const QUEUE = 6
/** Blocks of this length make a deep queue: 160 ms. */
const LONG_BLOCK = 1280
/** From the queue's end to the ear with this length of callback, ms (measured). */
const EXTRA = 51

/** PortAudio, on Linux, macOS and Windows. */
export const openNaudiodon: OpenOutput = async ({ deep, now, pull, dry, failed }) => {
  const { AudioIO, SampleFormat16Bit } = await import('naudiodon')
  const out = AudioIO({
    outOptions: {
      deviceId: -1,
      channelCount: 2,
      sampleFormat: SampleFormat16Bit,
      sampleRate: RATE,
      framesPerBuffer: CALLBACK,
      maxQueue: QUEUE,
      closeOnError: false,
    },
  })
  const line = fitLine()
  let block = deep ? LONG_BLOCK : BLOCK
  let handed = 0
  let open = true
  /** A block is taken when the callback begins another one: the queue and that block lie before it. */
  const depthMs = (): number => msOf((QUEUE + 1) * block) + EXTRA

  await new Promise<void>((resolve, reject) => {
    out.on('error', e => {
      failed(String(e))
      reject(e)
    })
    /** One block at a time; the next when the queue has taken it. */
    const feed = (): void => {
      if (!open) return
      const ranDry = line.gap(handed, now())
      if (ranDry) block = LONG_BLOCK
      const pcm = new Int16Array(2 * block)
      pull(pcm)
      handed += block
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
