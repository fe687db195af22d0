/** A plain discrete Fourier sum over a Hann window: slow, short, and not the code under test. */
const power = (x: ArrayLike<number>, rate: number, hz: number): number => {
  let [re, im] = [0, 0]
  for (let i = 0; i < x.length; i++) {
    const hann = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / x.length)
    const angle = (2 * Math.PI * hz * i) / rate
    re += (x[i] as number) * hann * Math.cos(angle)
    im += (x[i] as number) * hann * Math.sin(angle)
  }
  return re * re + im * im
}

/** Energy from `hz` up to half the rate, in dB (of no fixed zero: compare only). */
export const energyAbove = (x: ArrayLike<number>, rate: number, hz: number): number => {
  let sum = 0
  for (let f = hz; f < rate / 2; f += rate / x.length) sum += power(x, rate, f)
  return 10 * Math.log10(sum)
}

/** The strongest frequency up to 8 kHz, to 1 Hz. */
export const pitch = (x: ArrayLike<number>, rate: number): number => {
  const strongest = (from: number, to: number, step: number): number => {
    let [best, top] = [from, -1]
    for (let f = from; f < to; f += step) {
      const p = power(x, rate, f)
      if (p > top) [best, top] = [f, p]
    }
    return best
  }
  const near = strongest(50, 8000, 20)
  return strongest(near - 20, near + 21, 1)
}

/** Where the middle of the energy lies, in Hz: how bright a noise sounds. */
export const centroid = (x: ArrayLike<number>, rate: number): number => {
  let [weighted, sum] = [0, 0]
  for (let f = 50; f < rate / 2; f += 100) {
    const p = power(x, rate, f)
    weighted += f * p
    sum += p
  }
  return weighted / sum
}
