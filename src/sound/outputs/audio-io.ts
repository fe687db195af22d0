import { fitLine } from '../line.ts'
import { framesOf, RATE } from '../stream.ts'
import { type OpenOutput, SETTLED } from './output.ts'

/** The device's buffer for a depth, ms: it holds up to twice as much. */
const bufferFor = (ms: number): number => ms / 2
/** Blocks of silence after the device was opened anew, until it can be foretold when a frame is heard. */
const SETTLING = 3
/** To open the device takes less than this, ms. */
const REOPEN = 100
/** Prebuilt for Linux, macOS and Windows: needs no compiler. Always the default device. */
export const openAudioIo: OpenOutput = async ({ depth, device, now, pull, silentIn, dry, failed }) => {
  if (device !== null) throw new Error(`no such device: ${device}`)
  const { createAudioOutput } = await import('@echogarden/audio-io')
  const line = fitLine()
  let buffer = bufferFor(depth.ms())
  let handed = 0
  let opening = false
  /** Blocks of silence still to come, and the line to which the sound comes back after them; null = where it may. */
  let settling = 0
  let grid: ((t: number) => number) | null = null
  let started = (): void => {}
  const playing = new Promise<void>(resolve => {
    started = resolve
  })

  /** Leaves out what was to be heard by now. Only silence is left out. */
  const catchUp = (t: number): void => {
    const due = grid?.(t) ?? handed
    grid = null
    for (let left = due - handed; left > 0; left = due - handed) {
      const skipped = new Int16Array(2 * Math.min(left, RATE / 100))
      pull(skipped)
      handed += skipped.length / 2
    }
    line.restart(handed)
  }
  const fill = (out: Int16Array): void => {
    if (settling > 0) {
      settling--
      if (settling === 0) catchUp(now() + 2 * buffer - 0.8)
      return void out.fill(0)
    }
    const t = now()
    const ranDry = line.gap(handed, t)
    pull(out)
    handed += out.length / 2
    if (handed > SETTLED) {
      line.see(handed, now() + 2 * buffer - 0.8)
      started()
    }
    if (ranDry) {
      depth.ranDry(t)
      dry(line.from())
    } else depth.calmed(t)
    reconsider()
  }
  /** The buffer's length is fixed when it is opened: another length is opened where nothing sounds. */
  const reconsider = (): void => {
    const next = bufferFor(depth.ms())
    if (next === buffer || opening) return
    const silence = framesOf(REOPEN + (SETTLING + 2) * next)
    if (!silentIn(handed - framesOf(2 * buffer), handed + silence)) return
    opening = true
    setImmediate(() => reopen(silence).catch((e: unknown) => failed(String(e))))
  }
  const open = () =>
    createAudioOutput({ sampleRate: RATE, channelCount: 2, bufferDuration: buffer }, out => {
      // A throw in here would be swallowed, and the output would stand still for ever.
      try {
        fill(out)
      } catch (e) {
        failed(String(e))
      }
    })
  let out = await open()

  const reopen = async (silence: number): Promise<void> => {
    const at = line.at(handed)
    const from = handed
    grid = at === null ? null : t => from + Math.min(silence, framesOf(t - at))
    await out.dispose()
    buffer = bufferFor(depth.ms())
    settling = SETTLING
    out = await open()
    opening = false
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
