import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Placed, Program, Tone } from '../../src/click/program.ts'
import { FADE, renderer } from '../../src/click/render.ts'
import { DEFAULT_LEVELS, type Levels } from '../../src/click/voices.ts'
import { energyAbove } from './spectrum.ts'
import { all, bare, music, played, RATE } from './support.ts'

const rendered = (timeline: readonly Placed[], frames: number, block = 480, levels: Levels = all('f')) => {
  const render = renderer(RATE, levels, 1)
  const whole = new Int16Array(frames)
  for (let f = 0; f < frames; f += block) render(timeline, f, whole.subarray(f, Math.min(f + block, frames)))
  return whole
}
const tone = (t: Partial<Tone> = {}): Tone => ({ hz: 441.7, dbfs: -18, from: 480, to: RATE - 480, ...t })
const alone = (t: Partial<Tone> = {}): Program => ({ ...bare([], RATE), tone: tone(t) })
const at0 = (program: Program, cut?: number): Placed[] => [
  { id: 1, at: 0, program, ...(cut === undefined ? {} : { cut }) },
]
const highest = (s: Int16Array): number => s.reduce((m, x) => Math.max(m, Math.abs(x)), 0)

const same = (a: Int16Array, b: Int16Array): boolean => a.length === b.length && a.every((x, i) => x === b[i])

/** Strength of one frequency (Goertzel's sum, written out). */
const strength = (s: Int16Array, hz: number): number => {
  let [re, im] = [0, 0]
  s.forEach((x, i) => {
    re += x * Math.cos((2 * Math.PI * hz * i) / RATE)
    im += x * Math.sin((2 * Math.PI * hz * i) / RATE)
  })
  return (2 * Math.hypot(re, im)) / s.length
}

describe('a reference tone', () => {
  test('has its pitch: the middle second holds it and next to nothing a quarter-tone beside', () => {
    const program = { ...bare([], 3 * RATE), tone: tone({ hz: 440, from: 0, to: 3 * RATE }) }
    const middle = rendered(at0(program), 3 * RATE).subarray(RATE, 2 * RATE)
    const there = strength(middle, 440)
    expect(there).toBeGreaterThan(1000)
    expect(strength(middle, 440 * 2 ** (1 / 24)) / there).toBeLessThan(0.01)
    expect(strength(middle, 880)).toBeCloseTo(there / 2, -1)
  })

  test('is never louder than it says, at any pitch, and as loud as the master allows', () => {
    for (const hz of [55, 233.08, 440, 1760]) {
      const top = highest(rendered(at0(alone({ hz })), RATE))
      expect(top).toBeLessThanOrEqual(32767 * 10 ** (-18 / 20))
      expect(top).toBeGreaterThan(32767 * 10 ** (-18 / 20) * 0.6)
      const softer = highest(rendered(at0(alone({ hz })), RATE, 480, { ...all('f'), master: 'mf' }))
      expect(softer / top).toBeCloseTo(10 ** (-9 / 20), 2)
    }
    const off = renderer(RATE, { ...DEFAULT_LEVELS, master: 'off' }, 1)
    expect(off(at0(alone()), 0, new Int16Array(RATE))).toBe(false)
  })

  test('begins and ends without a crack, and sounds nowhere else', () => {
    const s = rendered(at0(alone()), 2 * RATE)
    expect(highest(s.subarray(0, 481))).toBe(0)
    expect(highest(s.subarray(RATE - 480))).toBe(0)
    const hard = s.slice().fill(0, RATE / 2 + 30)
    const crack = (x: Int16Array, f: number) => energyAbove(x.subarray(f - 256, f + 256), RATE, 6000)
    for (const f of [480, RATE - 480]) expect(crack(hard, RATE / 2 + 30) - crack(s, f)).toBeGreaterThan(20)
  })

  test('fades in five milliseconds where it is cut', () => {
    const cut = 20_000
    const [whole, soft] = [rendered(at0(alone()), RATE), rendered(at0(alone(), cut), RATE)]
    expect(soft.subarray(0, cut)).toEqual(whole.subarray(0, cut))
    expect(highest(soft.subarray(cut, cut + 100))).toBeGreaterThan(100)
    expect(highest(soft.subarray(cut + FADE * RATE))).toBe(0)
  })

  test('is the same in blocks of any size, for any timeline and cut, in both channels', () => {
    const busy = { ...played(music('7/8', 1, 'eighth=208'), { countIn: 1, subdivide: 2 }), tone: tone() }
    const placed = fc.record({ at: fc.nat(20_000), cut: fc.option(fc.nat(30_000), { nil: undefined }) })
    fc.assert(
      fc.property(
        fc.array(placed, { minLength: 1, maxLength: 3 }),
        fc.integer({ min: 1, max: 9000 }),
        (places, block) => {
          const timeline = places.map(({ at, cut }, id) => ({
            id,
            at,
            program: busy,
            ...(cut === undefined ? {} : { cut: at + cut }),
          }))
          const one = rendered(timeline, 40_000, 40_000)
          expect(same(rendered(timeline, 40_000, block), one)).toBe(true)
          const stereo = new Int16Array(80_000)
          renderer(RATE, all('f'), 2)(timeline, 0, stereo)
          expect(stereo.every((x, i) => x === one[i >> 1])).toBe(true)
        },
      ),
      { numRuns: 30 },
    )
  })

  test('leaves the clicks as they are: the sum is clicks and tone', () => {
    const program = played(music('4/4', 2, '208'), { countIn: 1, subdivide: 4 })
    const [clicks, both, only] = [
      rendered(at0(program), program.frames),
      rendered(at0({ ...program, tone: tone() }), program.frames),
      rendered(at0({ ...bare([], program.frames), tone: tone() }), program.frames),
    ]
    expect(
      same(
        both,
        clicks.map((c, i) => c + (only[i] as number)),
      ),
    ).toBe(true)
  })
})
