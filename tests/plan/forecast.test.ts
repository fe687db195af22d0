import { describe, expect, test } from 'vitest'
import { chancesAhead } from '../../src/plan/forecast.ts'

const LOOKED = 40
const daily = (turns: number): readonly number[] => Array.from({ length: turns - 1 + LOOKED }, () => 0)
const second = (turns: number): readonly number[] => daily(turns).map(() => 1)
/** A climb of so many turns that closes such a share of the gap to 1.35 times the goal each time, up to `to`. */
const climb = (turns: number, share: number, to: number): readonly number[] => {
  const limit = Math.log(1.35)
  return Array.from({ length: turns }, (_, i) => limit + (to - limit) / (1 - share) ** (turns - 1 - i))
}
const until = (chances: readonly number[], chance: number): number => chances.findIndex(c => c >= chance) + 1

describe('how likely the goal is reached within so many turns', () => {
  test('more turns are never less likely, and chances lie between none and one', () => {
    for (const off of [daily(4), second(4)]) {
      const all = chancesAhead(
        [72, 76, 80, 83].map(b => Math.log(b / 104)),
        off,
      )
      expect(all).toHaveLength(LOOKED)
      for (const [i, c] of all.entries()) {
        expect(c).toBeGreaterThanOrEqual(all[i - 1] ?? 0)
        expect(c).toBeLessThanOrEqual(1)
      }
    }
  })

  /**
   * By hand, of a climb with nothing but its curve: from ln(.8) a tenth of the gap to ln(1.35) each turn leads to the goal
   * after ln(.5232 / .3001) / -ln(.9) = 5.3 turns; with .2 a turn after 2.5. The usual share, .134, draws both a little.
   */
  test.each([
    [0.1, 4, 6],
    [0.2, 2, 3],
  ])('a share of %s a turn: an even chance within %s to %s turns', (share, least, most) => {
    const all = chancesAhead(climb(8, share, Math.log(0.8)), daily(8))
    expect(until(all, 0.5)).toBeGreaterThanOrEqual(least)
    expect(until(all, 0.5)).toBeLessThanOrEqual(most)
  })

  test('more turns of the same pace make the range narrower', () => {
    const width = (n: number) => {
      const all = chancesAhead(climb(n, 0.134, -0.3), daily(n))
      return until(all, 0.84) - until(all, 0.16)
    }
    expect(width(8)).toBeLessThan(width(3))
  })

  test('what is forgotten on days off makes it later, the more the later; on no days off it changes nothing', () => {
    const ys = climb(5, 0.134, -0.3)
    const [none, usual, much] = (['none', 'usual', 'much'] as const).map(f => chancesAhead(ys, second(5), f))
    for (const i of [2, 5, 9, 20]) {
      expect(none?.[i]).toBeGreaterThan(usual?.[i] as number)
      expect(usual?.[i]).toBeGreaterThan(much?.[i] as number)
    }
    expect(chancesAhead(ys, daily(5), 'much')).toEqual(chancesAhead(ys, daily(5), 'none'))
  })

  test('a higher best on the last turn is never less likely to get there', () => {
    const chance = (last: number) => chancesAhead([-0.4, -0.35, -0.3, last], daily(4))[5] as number
    expect(chance(-0.2)).toBeGreaterThan(chance(-0.25))
    expect(chance(-0.25)).toBeGreaterThan(chance(-0.3))
  })
})
