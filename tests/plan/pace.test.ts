import { describe, expect, test } from 'vitest'
import { lineDays, theilSen } from '../../src/plan/outlook.ts'

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
