import { describe, expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
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
