/** The one format of the stream: 16-bit stereo, interleaved. Frames a second. */
export const RATE = 48_000
/** Frames handed over at once; 10 ms. */
export const BLOCK = 480

export const msOf = (frames: number): number => (frames * 1000) / RATE
export const framesOf = (ms: number): number => Math.round((ms * RATE) / 1000)

/** Milliseconds on the monotonic clock of the machine. Agrees between processes, which performance.now() does not. */
export const monotonic = (): number => Number(process.hrtime.bigint()) / 1e6
