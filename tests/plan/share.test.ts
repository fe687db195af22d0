import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
import { half, halfUp, inHalves, parts } from '../../src/plan/share.ts'
import { assumed, gapOf, isKnown, needOf, rateOf } from '../../src/plan/work.ts'
import { SIX, work } from './scene.ts'

const rounded = (all: readonly number[], digits: number): readonly number[] =>
  all.map(x => Number(x.toFixed(digits)))

describe('what a section needs, worked by hand', () => {
  test('the gap is ln(goal / ceiling)', () => {
    expect(rounded(SIX.map(gapOf), 3)).toEqual([0.357, 0.182, 0.069, 0.375, 0, 0.383])
  })

  test('the gain of a minute is drawn toward the usual one while little is logged', () => {
    expect(
      rounded(
        [0, 1, 2, 3, 5].map(i => rateOf(SIX[i] as (typeof SIX)[number])),
        4,
      ),
    ).toEqual([0.006, 0.0091, 0.007, 0.0043, 0.008])
  })

  test('minutes to a little more than the goal: 3 % of it, until cold takes there are clean', () => {
    const margin = SIX.map(w => Math.log(1.03) / rateOf(w))
    const goal = SIX.map((w, i) => needOf(w) - (margin[i] as number))
    expect(rounded(goal, 1)).toEqual([59.4, 20.1, 9.9, 86.5, 0, 47.9])
    const E = work('E', 120, 120)
    const [none, one, ready] = [E, { ...E, cleanColds: 1 }, { ...E, cleanColds: 2, ready: true }].map(w =>
      needOf(w),
    )
    expect(one).toBeCloseTo((none as number) / 2, 9)
    expect(ready).toBe(0)
  })

  test('ten minutes on one, half an hour on all of it, are enough to say how it goes', () => {
    const practiced = (...minutes: readonly number[]) =>
      minutes.map(m => work('A', 84, 120, { minutesSoFar: m }))
    expect(practiced(9.5, 10).map(isKnown)).toEqual([false, true])
    expect([assumed(practiced(20, 9.5)), assumed(practiced(20, 10)), assumed([])]).toEqual([
      true,
      false,
      true,
    ])
  })

  test('a range is needed to its upper end', () => {
    const upper = work('A', 120, 120, { top: tempo(126) })
    expect(needOf(upper) - needOf(work('A', 120, 120))).toBeCloseTo(Math.log(126 / 120) / rateOf(upper), 9)
  })

  test('without a ceiling the gap is that of the typed start, else of 60 % of the goal', () => {
    expect(gapOf(work('G', null, 120))).toBeCloseTo(Math.log(1 / 0.6), 9)
    expect(gapOf(work('G', null, 120, { next: tempo(80) }))).toBeCloseTo(Math.log(120 / 80), 9)
  })
})

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)

describe('whole and half minutes', () => {
  test('half minutes keep the sum, rounded down to a half, and move nothing by half a minute or more', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 30, noNaN: true }), { maxLength: 12, size: 'max' }),
        all => {
          const halves = inHalves(all)
          expect(sum(halves)).toBeCloseTo(Math.floor(sum(all) * 2 + 1e-6) / 2, 9)
          halves.forEach((h, i) => {
            expect((h * 2) % 1).toBe(0)
            expect(Math.abs(h - (all[i] as number))).toBeLessThan(0.5 + 1e-9)
          })
        },
      ),
    )
  })
})

test('the same sum, the largest rests rounded up', () => {
  expect(inHalves([1.2, 1.4, 2.4])).toEqual([1, 1.5, 2.5])
  expect(inHalves([0.25, 0.25])).toEqual([0.5, 0])
  expect(inHalves([])).toEqual([])
  for (const all of [inHalves([3.3, 3.3, 3.4]), inHalves([9.9, 0.1])])
    expect(all.reduce((a, b) => a + b, 0)).toBe(10)
})

test('what is a half but for the last digit is no less', () => {
  expect(inHalves([1.5 - 1e-12, 2.3, 0.2])).toEqual([1.5, 2.5, 0])
  expect(inHalves([0.1 + 0.2, 0.7, 1])).toEqual([0.5, 0.5, 1])
})

test('parts differ by half a minute at most, the longer ones first', () => {
  expect(parts(14, 3)).toEqual([5, 4.5, 4.5])
  expect(parts(14.5, 3)).toEqual([5, 5, 4.5])
  expect(parts(9, 2)).toEqual([4.5, 4.5])
  expect(parts(0.5, 1)).toEqual([0.5])
  expect(parts(5, 0)).toEqual([])
})

test('the nearest half, or the next one; what is nearly a half already stays there', () => {
  expect([1.24, 1.25, 1.74, 1.76].map(half)).toEqual([1, 1.5, 1.5, 2])
  expect([1, 1.01, 1.5, 1.5 + 1e-12, 1.51].map(halfUp)).toEqual([1, 1.5, 1.5, 1.5, 2])
})
