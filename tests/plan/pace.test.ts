import { describe, expect, test } from 'vitest'
import { chanceWithin, dailyShare, gapDays, lineDays, theilSen } from '../../src/plan/pace.ts'

/** Ceilings of four days of practice and the goal; worked by hand. */
const DAYS = [72, 76, 80, 83].map(Math.log)
const GOAL = Math.log(104)

describe('the line of Theil and Sen', () => {
  test('median slope .0493 (5.1 % a day), median level 4.2790, 4.4 more days', () => {
    const { slope, level } = theilSen(DAYS)
    expect(slope).toBeCloseTo(0.0493, 4)
    expect(Math.expm1(slope)).toBeCloseTo(0.051, 3)
    expect(level).toBeCloseTo(4.279, 4)
    expect(lineDays(DAYS, GOAL)).toBeCloseTo(4.4, 1)
  })

  test('one day that went badly does not bend it', () => {
    const even = [0, 1, 2, 3, 4, 5, 6].map(i => 4 + 0.04 * i)
    const bad = even.map((y, i) => (i === 3 ? y - 0.3 : y))
    expect(theilSen(bad).slope).toBeCloseTo(0.04, 9)
  })

  test('a line that does not rise reaches nothing', () => {
    expect(lineDays([4.5, 4.5, 4.4], 4.6)).toBe(Number.POSITIVE_INFINITY)
  })
})

describe('the gap law', () => {
  test('the chance that the goal is reached within so many days: half at the middle, a tenth and nine tenths at the ends', () => {
    const { low, middle, high } = gapDays(DAYS, GOAL)
    for (const [days, chance] of [
      [low, 0.1],
      [middle, 0.5],
      [high, 0.9],
    ] as const)
      expect(chanceWithin(days, DAYS, GOAL)).toBeCloseTo(chance, 3)
    // In 6 days with .0892 a day: .233 spreads below the mean. Tables of the normal curve: .592.
    expect(chanceWithin(6, DAYS, GOAL)).toBeCloseTo(0.592, 3)
  })

  test('what is lost between two turns was gained all the same, and has to be gained again', () => {
    const [lost, tenth] = [gapDays(DAYS, GOAL, 0.03), gapDays(DAYS, GOAL, 0.1)]
    const none = gapDays(DAYS, GOAL)
    expect(lost.middle).toBeGreaterThan(none.middle)
    expect(tenth.middle).toBeGreaterThan(lost.middle)
    expect(tenth.high).toBe(Number.POSITIVE_INFINITY)
  })

  test('shares .081 .084 .065, drawn to .100; 5.3 days, 80 % range 3.3 to 13', () => {
    const { each, mean } = dailyShare(DAYS, GOAL)
    expect(each.map(k => Number(k.toFixed(3)))).toEqual([0.081, 0.084, 0.065])
    expect(mean).toBeCloseTo(0.1, 3)
    // Spread .1 over the root of 3 + 2 days is .0447; the mean and 1.28 of it more or less are .157 and .042 a day.
    const { low, middle, high } = gapDays(DAYS, GOAL)
    expect(middle).toBeCloseTo(5.3, 1)
    expect(low).toBeCloseTo(3.3, 1)
    expect(Math.ceil(high)).toBe(13)
  })

  test('what is reached needs no more days', () => {
    expect(gapDays([4, GOAL], GOAL)).toEqual({ low: 0, middle: 0, high: 0 })
  })

  test('more days of the same pace make the range narrower', () => {
    const climb = (n: number) => {
      const limit = GOAL + Math.log(1.35)
      const ys = [limit - 0.9]
      while (ys.length < n) ys.push((ys.at(-1) as number) + 0.134 * (limit - (ys.at(-1) as number)))
      return ys.map(y => y - (ys.at(-1) as number) + GOAL - 0.2)
    }
    const width = (n: number) => gapDays(climb(n), GOAL).high / gapDays(climb(n), GOAL).low
    expect(width(8)).toBeLessThan(width(4))
  })

  test('a fall for days has no far end, and never a negative number', () => {
    const { low, high } = gapDays([4.6, 4.5, 4.4, 4.3], 4.7)
    expect(high).toBe(Number.POSITIVE_INFINITY)
    expect(low).toBeGreaterThan(0)
  })
})
