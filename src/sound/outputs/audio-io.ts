import { fitLine } from '../line.ts'
import { RATE } from '../stream.ts'
import { type OpenOutput, SETTLED } from './output.ts'

/** Length of the device's buffer, ms; it holds up to twice as much. */
const BUFFER = 50
const BUFFER_DEEP = 100

/** Prebuilt for Linux, macOS and Windows: needs no compiler. Always the default device. */
export const openAudioIo: OpenOutput = async ({ deep, now, pull, dry, failed }) => {
  const { createAudioOutput } = await import('@echogarden/audio-io')
  const line = fitLine()
  let buffer = deep ? BUFFER_DEEP : BUFFER
  let handed = 0
  let started = (): void => {}
  const playing = new Promise<void>(resolve => {
    started = resolve
  })

  const fill = (out: Int16Array): void => {
    const ranDry = line.gap(handed, now())
    pull(out)
    handed += out.length / 2
    if (handed > SETTLED) {
      line.see(handed, now() + 2 * buffer - 0.8)
      started()
    }
    if (ranDry) {
      dry(line.from())
      if (buffer === BUFFER) setImmediate(deepen)
    }
  }
  const open = () => createAudioOutput({ sampleRate: RATE, channelCount: 2, bufferDuration: buffer }, fill)
  let out = await open()

  /** The buffer's length is fixed when it is opened. */
  const deepen = (): void => {
    buffer = BUFFER_DEEP
    out
      .dispose()
      .then(() => {
        line.restart(handed)
        return open()
      })
      .then(
        o => {
          out = o
        },
        (e: unknown) => failed(String(e)),
      )
  }
  await playing
  return {
    name: 'audio-io',
    depthMs: () => 2 * buffer,
    heardAt: line.at,
    lineFrom: line.from,
    close: () => {},
  }
}
