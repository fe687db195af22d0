import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { tempoMap } from '../../src/click/tempo-map.ts'
import { frac } from '../../src/music/fraction.ts'
import { framesOf, music, played, RATE, tempoOf } from './support.ts'

const DAY = 24 * 3600

// Common practice, no source: 60 s / 92 x 48,000 x 919 = 28,768,695.65.
test('at quarter = 92 and 48 kHz the onset with index 919 (the first is 0) is at frame 28,768,696', () => {
  expect(framesOf(played(music('4/4', 230, '92')))[919]).toBe(28_768_696)
})

describe('over 24 hours no beat is more than half a sample from its exact time', () => {
  // Whole numbers only: |frame x bpm - beat x 60 x rate| <= bpm / 2, with the tempo in thousandths.
  const worstTwice = (frames: readonly number[], thousandths: bigint, rate: bigint): bigint =>
    frames.reduce((worst, frame, k) => {
      const off = 2n * (BigInt(frame) * thousandths - BigInt(k) * 60_000n * rate)
      return off > worst ? off : -off > worst ? -off : worst
    }, 0n)

  test.each([
    ['92', 92_000n, 48_000n],
    ['104', 104_000n, 44_100n],
    ['63.517', 63_517n, 48_000n],
  ])(
    'quarter = %s',
    (typed, thousandths, rate) => {
      const measures = Math.ceil((DAY * Number(thousandths)) / 60_000 / 4)
      const frames = framesOf(played(music('4/4', measures, typed), { rate: Number(rate) }))
      expect(frames.at(-1)).toBeGreaterThan((DAY - 10) * Number(rate))
      expect(worstTwice(frames, thousandths, rate)).toBeLessThanOrEqual(thousandths)
    },
    30_000,
  )

  test('any tempo, any position: exact where the time is a fraction', () => {
    const tempos = fc.integer({ min: 1000, max: 999_000 })
    const denominators = fc.constantFrom(1, 4, 8, 12, 16, 20, 28, 64, 96, 192, 448)
    fc.assert(
      fc.property(
        tempos,
        denominators,
        fc.nat(1_000_000),
        fc.constantFrom(44_100, 48_000, 96_000),
        (t, d, n, rate) => {
          const seconds = (n / d) * (240_000 / t)
          fc.pre(seconds < DAY)
          const form = music('4/4', 1, String(t / 1000))
          const frame = Math.round(tempoMap(form, tempoOf(String(t / 1000)), rate).frames(frac(n, d)))
          const [den, num] = [BigInt(d) * BigInt(t), BigInt(n) * 240_000n * BigInt(rate)]
          const off = 2n * (BigInt(frame) * den - num)
          expect(off <= den && -off <= den).toBe(true)
        },
      ),
      { numRuns: 500 },
    )
  })
})

test('a map of marks at any typed tempos, played from any other one, is never too fine to be exact', () => {
  const typed = fc.integer({ min: 20_000, max: 400_000 }).map(t => String(t / 1000))
  fc.assert(
    fc.property(typed, typed, typed, fc.integer({ min: 1, max: 500_000 }), (one, two, rung, n) => {
      const form = music('4/4', 1200, one)
      const at = frac(n, 448)
      const marked = { ...form, marks: [...form.marks, { at: frac(1, 4), tempo: tempoOf(two) }] }
      const got = tempoMap(marked, tempoOf(rung), RATE).frames(at)
      const slower = Number(one) / Number(rung)
      const seconds = (Math.min(n / 448, 0.25) * 240 * slower) / Number(one)
      const rest = (Math.max(0, n / 448 - 0.25) * 240 * slower) / Number(two)
      expect(Math.abs(got / RATE - seconds - rest)).toBeLessThan(1e-6)
    }),
    { numRuns: 500 },
  )
})
