import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { offsetFrom } from '../../src/sound/offset.ts'

const beats = Array.from({ length: 20 }, (_, i) => 5000 + 800 * i)

describe('how much later the click is heard', () => {
  test('twenty presses with it: the median says so', () => {
    expect(
      offsetFrom(
        beats.map(b => b + 180),
        beats,
      ),
    ).toEqual({ ms: 180, spread: 0 })
  })

  test('some wild presses, and some beats left out, change nothing', () => {
    const presses = beats.map((b, i) => b + (i % 5 === 0 ? 500 : i % 7 === 3 ? -150 : 181 + (i % 3) - 1))
    const off = offsetFrom(presses.slice(1, 18), beats)
    expect(off?.ms).toBeGreaterThanOrEqual(180)
    expect(off?.ms).toBeLessThanOrEqual(182)
  })

  test('a little early is no offset: nobody hears a click before it sounds', () => {
    expect(
      offsetFrom(
        beats.map(b => b - 30),
        beats,
      )?.ms,
    ).toBe(0)
  })

  test('presses all over the place say so by their spread', () => {
    const presses = beats.map((b, i) => b + ((i * 337) % 600))
    expect(offsetFrom(presses, beats)?.spread).toBeGreaterThan(80)
  })

  test('eleven presses say nothing', () => {
    expect(offsetFrom(beats.slice(0, 11), beats)).toBeNull()
  })

  test('any delay up to half a second is found, however much single presses waver', () => {
    const delay = fc.integer({ min: 0, max: 500 })
    const wavers = fc.array(fc.integer({ min: -40, max: 40 }), { minLength: 20, maxLength: 20 })
    fc.assert(
      fc.property(delay, wavers, (ms, by) => {
        const found = offsetFrom(
          beats.map((b, i) => b + ms + (by[i] ?? 0)),
          beats,
        )
        expect(Math.abs((found?.ms ?? Number.NaN) - ms)).toBeLessThanOrEqual(40)
      }),
    )
  })
})
