import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { noTaps, type Taps, tap, tapCount, tappedTempo } from '../../../src/screens/click/reduce.ts'

/** Taps with these distances in ms, the first at 5000. */
const tapped = (intervals: readonly number[], from: Taps = noTaps): Taps => {
  let t = (from.last ?? 5000) + (from.last === null ? 0 : (intervals[0] ?? 0))
  let taps = tap(from, t)
  for (const i of from.last === null ? intervals : intervals.slice(1)) {
    t += i
    taps = tap(taps, t)
  }
  return taps
}
const found = (...intervals: number[]): number | null => {
  const bpm = tappedTempo(tapped(intervals))
  return bpm === null ? null : Math.round(bpm)
}

describe('a tempo from taps', () => {
  test('needs three of them', () => {
    expect(found()).toBeNull()
    expect(found(500)).toBeNull()
    expect(found(500, 500)).toBe(120)
    expect(tapCount(noTaps)).toBe(0)
    expect(tapCount(tapped([500, 500]))).toBe(3)
  })

  test('is found from 20 to 300 a minute, and nowhere else', () => {
    expect(found(3000, 3000, 3000)).toBe(20)
    expect(found(200, 200, 200)).toBe(300)
    expect(found(190, 190, 190)).toBeNull()
    // Longer than 3 s is a pause, not a beat.
    expect(tapCount(tapped([3001]))).toBe(1)
  })

  test('does not mind one tap missed or one too many', () => {
    expect(found(476, 476, 952, 476)).toBe(126)
    expect(found(476, 476, 200, 276, 476)).toBe(126)
    expect(found(952, 476, 476)).toBe(126)
  })

  test('waits when the taps do not agree', () => {
    expect(found(500, 800)).toBeNull()
    expect(found(500, 1000)).toBeNull()
    expect(found(500, 800, 510)).toBe(120)
  })

  test('begins anew after a pause', () => {
    const before = tapped([500, 500, 500])
    const after = tapped([2000, 400, 400], before)
    expect(tapCount(after)).toBe(3)
    expect(tappedTempo(after)).toBe(150)
  })

  test('follows to another tempo without a pause', () => {
    expect(found(600, 600, 600, 450, 450, 450, 450)).toBe(133)
  })

  test('takes a key that is held for one tap', () => {
    expect(tapCount(tapped(Array(40).fill(33)))).toBe(1)
    // The first repeat comes late and looks like a tap; those after it are none, so it never becomes a tempo.
    expect(tappedTempo(tapped([500, ...Array(60).fill(33)]))).toBeNull()
    expect(found(500, 20, 480, 500)).toBe(120)
  })

  test('is never further off than two taps of an uneven hand can be', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 40, max: 208 }),
        fc.array(fc.integer({ min: -12, max: 12 }), { minLength: 8, maxLength: 8 }),
        (bpm, off) => {
          const beat = 60_000 / bpm
          let taps = noTaps
          for (const [i, ms] of off.entries()) taps = tap(taps, 1000 + i * beat + ms)
          const found = tappedTempo(taps) ?? 0
          // The median of seven intervals is one of them: off by 24 ms at the very most.
          expect(Math.abs(60_000 / found - beat)).toBeLessThanOrEqual(24.001)
        },
      ),
    )
  })
})
