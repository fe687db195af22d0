import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { endless, type Steady } from '../../src/click/endless.ts'
import type { Onset, Program } from '../../src/click/program.ts'
import { frac } from '../../src/music/fraction.ts'
import { framesOf, meter, music, nearest, played, RATE, tempoOf } from './support.ts'

const steady = (m: string, t: string, more: Partial<Steady> = {}): Steady => ({
  meter: meter(m),
  tempo: tempoOf(t),
  subdivide: 1,
  ...more,
})

/** Programs laid end to end, as the sound process plays them. */
const laid = (all: readonly Program[]): { onsets: Onset[]; frames: number } => {
  const onsets: Onset[] = []
  let frames = 0
  for (const p of all) {
    for (const o of p.onsets) onsets.push({ ...o, frame: o.frame + frames })
    frames += p.frames
  }
  return { onsets, frames }
}

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)

/** Cut into programs of these numbers of measures, from measure `first` on. */
const cut = (s: Steady, counts: readonly number[], first = 0) => {
  const e = endless(s, RATE, first)
  let from = first
  return laid(
    counts.map(n => {
      from += n
      return e.measures(from - n, n)
    }),
  )
}

describe('a click without an end', () => {
  test('at 92 the click with index 919 falls where it falls in one long program: no drift from measure to measure', () => {
    const { onsets } = cut(steady('4/4', '92'), Array(250).fill(1))
    // 919 x 60/92 x 48000, to the nearest frame.
    expect(onsets[919]?.frame).toBe(28_768_696)
  })

  test.each(['4/4', '6/8', '3+2/8'])(
    'the last beat of %s is where its last click is that is no subdivision',
    m => {
      for (const subdivide of [1, 3]) {
        const { onsets, lastBeat } = endless(steady(m, '97', { subdivide }), RATE, 0).measures(2, 3)
        expect(lastBeat).toBe(onsets.findLast(o => o.role !== 'sub')?.frame)
        expect(lastBeat).toBeGreaterThan(0)
      }
    },
  )

  test('is the same click however it is cut, in any meter and tempo', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('4/4', '3/4', '6/8', '7/8', '3+2/8', '2/2', '1/16'),
        fc.constantFrom('92', '63.5', 'dotted-quarter=77', 'half=61', 'eighth=333', '999'),
        fc.integer({ min: 1, max: 4 }),
        fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1, maxLength: 12 }),
        (m, t, subdivide, counts) => {
          const whole = played(music(m, sum(counts), t), { subdivide })
          const { onsets, frames } = cut(steady(m, t, { subdivide }), counts)
          const { verdictFrom: _, ...all } = whole
          expect(endless(steady(m, t, { subdivide }), RATE, 0).measures(0, sum(counts))).toMatchObject(all)
          expect(onsets).toEqual(whole.onsets)
          expect(frames).toBe(whole.frames)
        },
      ),
      { numRuns: 200 },
    )
  })

  test('two measures on and two off go on in turn, also where a program begins in between', () => {
    const s = steady('2/4', '60', { only: { measures: { on: 2, off: 2 } } })
    const { onsets, frames } = cut(s, [1, 1, 1, 3, 2])
    expect(onsets.map(o => o.measure)).toEqual([1, 1, 2, 2, 5, 5, 6, 6])
    expect(onsets.map(o => o.frame)).toEqual(nearest([0, 1, 2, 3, 8, 9, 10, 11]))
    expect(frames).toBe(16 * RATE)
  })

  test('beats that do not click are still there for the eye', () => {
    const p = endless(steady('4/4', '120', { only: { beats: [2, 4] } }), RATE, 0).measures(0, 2)
    expect(framesOf(p)).toEqual(nearest([0.5, 1.5, 2.5, 3.5]))
    expect(p.unheard?.map(o => [o.measure, o.beat, o.frame / RATE])).toEqual([
      [1, 1, 0],
      [1, 3, 1],
      [2, 1, 2],
      [2, 3, 3],
    ])
  })

  test('the last measure of a stretch is known by where it begins', () => {
    expect(endless(steady('4/4', '60'), RATE, 0).measures(2, 3).verdictFrom).toBe(8 * RATE)
  })

  test('a new tempo keeps the numbers of the measures and the turn of on and off', () => {
    const s = steady('2/4', '120', { only: { measures: { on: 1, off: 1 } } })
    const { onsets } = cut(s, [1, 2], 7)
    // Index 7 is the eighth measure, an off one.
    expect(onsets.map(o => [o.measure, o.frame / RATE])).toEqual([
      [9, 1],
      [9, 1.5],
    ])
  })

  test('the count-in is a program of its own, as long as two clicks and 1.5 s at least', () => {
    const one = endless(steady('4/4', '60'), RATE, 0).countIn(1)
    expect(one?.frames).toBe(4 * RATE)
    expect(one?.onsets.map(o => [o.role, o.measure, o.beat])).toEqual([
      ['countIn', -1, 1],
      ['countIn', -1, 2],
      ['countIn', -1, 3],
      ['countIn', -1, 4],
    ])
    // One measure of 2/4 at 120 lasts 1 s; two of them.
    expect(endless(steady('2/4', '120'), RATE, 0).countIn(1)?.frames).toBe(2 * RATE)
    expect(endless(steady('4/4', '60'), RATE, 0).countIn(0)).toBeNull()
  })

  test('6/8 can be counted in eighths at a tempo in dotted quarters', () => {
    const p = endless(steady('6/8', 'dotted-quarter=60', { pulse: frac(1, 8) }), RATE, 0).measures(0, 1)
    expect(framesOf(p)).toEqual(nearest([0, 1 / 3, 2 / 3, 1, 4 / 3, 5 / 3]))
  })
})
