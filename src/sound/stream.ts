/** The one format of the stream: 16-bit stereo, interleaved. Frames a second. */
export const RATE = 48_000
/** Frames handed over at once; 10 ms. */
export const BLOCK = 480

export const msOf = (frames: number): number => (frames * 1000) / RATE
export const framesOf = (ms: number): number => Math.round((ms * RATE) / 1000)

/** Milliseconds on the monotonic clock of the machine. Agrees between processes, which performance.now() does not. */
export const monotonic = (): number => Number(process.hrtime.bigint()) / 1e6

/**
 * One step of the 16 bits up or down at random, -90 dBFS: nobody hears it, and a wireless receiver does not take it for
 * the end of the sound, as it takes silence. A half of the frames stays at zero.
 */
export const addHiss = (out: Int16Array): void => {
  for (let i = 0; i < out.length; i++) {
    const r = Math.random()
    out[i] = r < 0.25 ? -1 : r < 0.5 ? 1 : 0
  }
}
