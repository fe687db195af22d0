import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
import { divide, inHalves } from '../../src/plan/share.ts'
import { gapOf, needOf, rateOf } from '../../src/plan/work.ts'
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

  test('a range is needed to its upper end', () => {
    const upper = work('A', 120, 120, { top: tempo(126) })
    expect(needOf(upper) - needOf(work('A', 120, 120))).toBeCloseTo(Math.log(126 / 120) / rateOf(upper), 9)
  })

  test('without a ceiling the gap is that of the typed start, else of 60 % of the goal', () => {
    expect(gapOf(work('G', null, 120))).toBeCloseTo(Math.log(1 / 0.6), 9)
    expect(gapOf(work('G', null, 120, { next: tempo(80) }))).toBeCloseTo(Math.log(120 / 80), 9)
  })
})

describe('dividing minutes', () => {
  test('31 minutes on six sections, floor 2, cap 35 %: worked by hand', () => {
    const claims = [59.4, 20.1, 9.9, 86.5, 0, 47.9].map(need => ({ need, floor: 2, cap: 0.35 * 31 }))
    expect(rounded(divide(claims, 31), 1)).toEqual([7.5, 2.5, 2, 10.8, 2, 6.1])
  })

  const tenths = (most: number) => fc.integer({ min: 0, max: most * 10 }).map(n => n / 10)
  const claim = fc.record({ need: tenths(300), floor: tenths(8), cap: tenths(60) })
  const claims = fc.array(claim, { minLength: 1, maxLength: 12, size: 'max' })
  const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)

  test('no more than there is; all of it, unless every cap is met; floors and caps hold; need decides the rest', () => {
    let [fits, full] = [0, 0]
    fc.assert(
      fc.property(
        claims,
        fc.integer({ min: 1, max: 400 }).map(n => n / 2),
        (all, minutes) => {
          const shares = divide(all, minutes)
          expect(sum(shares)).toBeLessThanOrEqual(minutes + 1e-6)
          if (sum(all.map(c => c.floor)) >= minutes) return
          fits++
          const cap = (i: number) => Math.max(all[i]?.cap ?? 0, all[i]?.floor ?? 0)
          shares.forEach((s, i) => {
            expect(s).toBeGreaterThanOrEqual((all[i]?.floor ?? 0) - 1e-9)
            expect(s).toBeLessThanOrEqual(cap(i) + 1e-9)
          })
          const open = shares.flatMap((s, i) => (s < cap(i) - 1e-6 && (all[i]?.need ?? 0) > 1e-3 ? [i] : []))
          if (open.length > 0) {
            full++
            expect(sum(shares)).toBeCloseTo(minutes, 4)
          }
          // Between floor and cap, twice the need has twice the minutes.
          const free = open.filter(i => (shares[i] ?? 0) > (all[i]?.floor ?? 0) + 1e-6)
          for (const i of free)
            for (const j of free)
              expect((shares[i] as number) * (all[j]?.need ?? 0)).toBeCloseTo(
                (shares[j] as number) * (all[i]?.need ?? 0),
                2,
              )
        },
      ),
    )
    expect(Math.min(fits, full)).toBeGreaterThan(10)
  })

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

test('where there is nothing to divide, everyone has nothing', () => {
  expect(divide([{ need: 1, floor: 0, cap: 5 }], 0)).toEqual([0])
  expect(divide([{ need: 1, floor: 2, cap: 5 }], 0)).toEqual([0])
  expect(divide([], 20)).toEqual([])
})

test('floors that do not fit are cut in proportion; that just fit they are what each has', () => {
  const claims = [
    { need: 5, floor: 4, cap: 9 },
    { need: 1, floor: 2, cap: 9 },
  ]
  expect(divide(claims, 3)).toEqual([2, 1])
  expect(divide(claims, 6)).toEqual([4, 2])
})

test('halves: the same sum, the largest rests rounded up', () => {
  expect(inHalves([1.2, 1.4, 2.4])).toEqual([1, 1.5, 2.5])
  expect(inHalves([0.25, 0.25])).toEqual([0.5, 0])
  expect(inHalves([])).toEqual([])
  for (const all of [inHalves([3.3, 3.3, 3.4]), inHalves([9.9, 0.1])])
    expect(all.reduce((a, b) => a + b, 0)).toBe(10)
})
