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
