import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fitLine, streamLines } from '../../src/sound/line.ts'
import { msOf } from '../../src/sound/stream.ts'

describe('when a frame is heard', () => {
  test('unknown before anything was seen', () => {
    expect(fitLine().at(0)).toBeNull()
  })

  test('single late looks do not move the line', () => {
    const line = fitLine()
    for (let i = 0; i < 200; i++) line.see(480 * i, 1000 + 10 * i + (i % 9 === 0 ? 35 : 0))
    expect(line.at(0)).toBeCloseTo(1000, 6)
    expect(line.at(48000)).toBeCloseTo(2000, 6)
  })

  test('a look that swings by 21 ms, as a device with a long callback gives, comes out within 1 ms', () => {
    const line = fitLine()
    for (let i = 0; i < 200; i++) line.see(480 * i, 1000 + 10 * i + ((i * 10) % 21.3) - 10.65)
    expect(Math.abs((line.at(0) ?? 0) - 1000)).toBeLessThan(1)
  })

  test('a sound card that runs 50 in a million too fast is followed within 0.1 ms', () => {
    const line = fitLine()
    const real = (frame: number) => 1000 + msOf(frame) * (1 - 50e-6)
    for (let i = 0; i <= 6000; i++) line.see(480 * i, real(480 * i))
    expect(Math.abs((line.at(480 * 6000) ?? 0) - real(480 * 6000))).toBeLessThan(0.1)
  })

  test('after an underrun a new line starts and nothing of the old one bends it', () => {
    const line = fitLine()
    for (let i = 0; i < 100; i++) line.see(480 * i, 10 * i)
    line.restart(48000)
    expect(line.at(48000)).toBeNull()
    line.see(48480, 1310)
    expect(line.at(48000)).toBeCloseTo(1300, 6)
    expect(line.from()).toBe(48000)
  })
})

describe('a gap that only the device has seen', () => {
  /** Looks every 10 ms that swing by 21 ms; from look `n` on later by `ms`. */
  const looks = (n: number, ms: number): number | null => {
    const line = fitLine()
    for (let i = 0; i < 400; i++) {
      const t = 10 * i + ((i * 10) % 21.3) + (i >= n ? ms : 0)
      if (line.gap(480 * i, t)) return i
      line.see(480 * i, t + 120)
    }
    return null
  }

  test('of 12 ms is found within half a second', () => {
    const found = looks(200, 12)
    expect(found).toBeGreaterThan(200)
    expect(found).toBeLessThan(250)
  })

  test('is not seen where there is none, nor in 2 ms', () => {
    expect(looks(200, 0)).toBeNull()
    expect(looks(200, 2)).toBeNull()
  })

  test('is not seen in looks that are late now and then', () => {
    const line = fitLine()
    for (let i = 0; i < 400; i++) {
      const t = 10 * i + (i % 7 === 0 ? 0 : (i * 13) % 60)
      expect(line.gap(480 * i, t)).toBe(false)
      line.see(480 * i, t + 120)
    }
  })

  test('all that was handed over has been heard: a gap at once, and the new line begins there', () => {
    const line = fitLine()
    for (let i = 0; i < 100; i++) line.see(480 * i, 10 * i + 120)
    expect(line.gap(480 * 99, 990 + 119)).toBe(false)
    expect(line.gap(480 * 99, 990 + 121)).toBe(true)
    expect(line.from()).toBe(480 * 99)
    expect(line.at(0)).toBeNull()
  })
})

describe('all lines of a stream', () => {
  test('a frame keeps the line on which it was heard', () => {
    const lines = streamLines()
    lines.set(0, 4800, 600)
    lines.set(48000, 48000, 1800)
    expect(lines.heardAt(0)).toBe(500)
    expect(lines.heardAt(47999)).toBeCloseTo(500 + msOf(47999))
    expect(lines.heardAt(48000)).toBe(1800)
  })

  test('the newest word on a line counts', () => {
    const lines = streamLines()
    lines.set(0, 0, 500)
    lines.set(0, 48000, 1501)
    expect(lines.heardAt(0)).toBe(501)
  })

  test('unknown before the first word', () => {
    expect(streamLines().heardAt(0)).toBeNull()
    expect(streamLines().frameAt(0)).toBeNull()
  })

  test('frame to time and back is the same frame, before and after gaps', () => {
    const gap = fc.record({
      frames: fc.integer({ min: 1, max: 96000 }),
      ms: fc.integer({ min: 1, max: 3000 }),
    })
    void fc.assert(
      fc.property(fc.array(gap, { maxLength: 4 }), fc.nat(400000), (gaps, frame) => {
        const lines = streamLines()
        lines.set(0, 0, 250)
        let from = 0
        let offset = 250
        for (const g of gaps) {
          from += g.frames
          offset += g.ms
          lines.set(from, from, offset + msOf(from))
        }
        expect(lines.frameAt(lines.heardAt(frame) ?? Number.NaN)).toBe(frame)
      }),
    )
  })
})
