import { describe, expect, test } from 'vitest'
import type { Role } from '../../src/click/program.ts'
import { type Character, DEFAULT_LEVELS, voice } from '../../src/click/voices.ts'
import { onset, RATE } from './support.ts'

/**
 * Is the click heard beside the instrument that is played? Both at the same peak, in the bands in which the ear sorts
 * sound: the equivalent rectangular bandwidth, 24.7 (4.37 f + 1) Hz with f in kHz (Glasberg & Moore 1990, Hearing
 * Research 47). In noise a tone is heard from about the level of its band on (Zwicker & Fastl, Psychoacoustics, from
 * memory: some dB below it); 3 dB above that, in one band at least, is asked for here.
 *
 * The instruments are synthesized, by the shape of their spectra from memory: a trumpet's partials are about equal up to
 * 1.4 kHz and fall by 15 dB an octave above (Luce & Clark 1967); a flute's first partial is the strongest, and each
 * further one is 9 dB weaker (Fletcher & Rossing, The Physics of Musical Instruments).
 */
type Partials = (n: number, hz: number) => number

const trumpet: Partials = (_, hz) => (hz < 1400 ? 0 : -15 * Math.log2(hz / 1400))
const flute: Partials = n => -9 * (n - 1)

/** As long as one click is looked at: 30 ms. */
const LENGTH = Math.round(0.03 * RATE)

const toPeak = (x: Float64Array): Float64Array => {
  const top = x.reduce((m, s) => Math.max(m, Math.abs(s)), 0)
  return x.map(s => s / top)
}

/** A steady note; the phases differ, as in a real one. */
const note = (hz: number, partials: Partials): Float64Array =>
  toPeak(
    Float64Array.from({ length: LENGTH }, (_, i) => {
      let sum = 0
      for (let n = 1; n * hz < 12_000; n++)
        sum += 10 ** (partials(n, n * hz) / 20) * Math.sin((2 * Math.PI * n * hz * i) / RATE + n * n)
      return sum
    }),
  )

const click = (role: Role, character: Character): Float64Array => {
  const wave = voice(onset(role), RATE, { ...DEFAULT_LEVELS, character })
  return toPeak(Float64Array.from({ length: LENGTH }, (_, i) => wave[i] ?? 0))
}

const BANDS = (() => {
  const bands: { from: number; to: number }[] = []
  for (let at = 100; at < 10_000; ) {
    const to = at + 24.7 * ((4.37 * at) / 1000 + 1)
    bands.push({ from: at, to })
    at = to
  }
  return bands
})()

/** Level of each band, dB, over a Hann window. */
const levels = (x: Float64Array): readonly number[] =>
  BANDS.map(({ from, to }) => {
    let sum = 0
    for (let f = from; f < to; f += RATE / LENGTH) {
      let [re, im] = [0, 0]
      for (let i = 0; i < x.length; i++) {
        const s = (x[i] as number) * (0.5 - 0.5 * Math.cos((2 * Math.PI * i) / x.length))
        re += s * Math.cos((2 * Math.PI * f * i) / RATE)
        im += s * Math.sin((2 * Math.PI * f * i) / RATE)
      }
      sum += re * re + im * im
    }
    return 10 * Math.log10(sum + 1e-9)
  })

/** By how many dB the click stands out of the instrument in its best band. */
const standsOut = (of: readonly number[], from: readonly number[]): number =>
  Math.max(...of.map((x, i) => x - (from[i] as number)))

/** Notes over the range of each instrument: E3 to C6, and C4 to C7. */
const RANGE = {
  trumpet: [165, 233, 330, 466, 698, 1047],
  flute: [262, 392, 587, 880, 1319, 2093],
} as const

describe('the click beside an instrument of the same peak', () => {
  test.each([
    ['bright', 'trumpet', trumpet],
    ['unpitched', 'trumpet', trumpet],
    ['wood', 'flute', flute],
    ['bright', 'flute', flute],
    ['unpitched', 'flute', flute],
  ] as const)('%s beside a %s: every beat stands out, whatever is played', (character, name, partials) => {
    const clicks = (['downbeat', 'beat', 'sub'] as const).map(r => levels(click(r, character)))
    const notes = RANGE[name].map(hz => levels(note(hz, partials)))
    const least = Math.min(...notes.flatMap(n => clicks.map(c => standsOut(c, n))))
    process.stdout.write(`${character} beside a ${name}: at least ${least.toFixed(0)} dB in one band\n`)
    expect(least).toBeGreaterThan(3)
  })
})
