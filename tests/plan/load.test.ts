import { describe, expect, test } from 'vitest'
import { typed } from '../../src/music/tempo.ts'
import { loadOf } from '../../src/plan/load.ts'
import { SIX, TODAY, work } from './scene.ts'

/** 45 minutes a day, 14 of them for warm-up, joining and last takes. */
const DAY = { minutes: 45, beside: () => 14 }

describe('too much for the days there are, worked by hand', () => {
  const found = loadOf(SIX, TODAY, DAY)

  test('224 minutes are needed in 155', () => {
    expect(found?.load).toBeCloseTo(1.44, 2)
    expect(found?.word).toBe('over')
  })

  test('three ways: 59 minutes a day, all at 91 % of the goal, or one section stays lower', () => {
    expect(found?.offers?.minutes).toBe(59)
    expect(found?.offers?.share).toBeCloseTo(0.91, 2)
    expect(-Math.log(found?.offers?.share ?? 1)).toBeCloseTo(0.093, 3)
    expect(found?.offers?.lower.map(l => l.key)).toEqual(['D'])
    // 86.5 minutes asked, 68.7 too many: 17.8 are left at 0.0043 a minute, 0.077 above 66.
    expect(Number(typed(found?.offers?.lower[0]?.tempo as never))).toBeCloseTo(66 * Math.exp(0.0771), 1)
  })

  test('each of the three ways does fit', () => {
    const { minutes, share, lower } = found?.offers ?? { minutes: 0, share: 1, lower: [] }
    expect(loadOf(SIX, TODAY, { ...DAY, minutes })?.load).toBeLessThanOrEqual(1)
    expect(loadOf(SIX, TODAY, { ...DAY, minutes: minutes - 1 })?.load).toBeGreaterThan(1)
    const scaled = (g: number, s: number) => Math.round(g * s * 1000) / 1000
    const goals = [120, 120, 120, 96, 120, 132]
    const all = SIX.map((w, i) => ({
      ...w,
      goal: work('', null, scaled(goals[i] as number, share)).goal,
    }))
    expect(loadOf(all, TODAY, DAY)?.load).toBeCloseTo(1, 2)
    const some = SIX.map(w => ({ ...w, goal: lower.find(l => l.key === w.key)?.tempo ?? w.goal }))
    expect(loadOf(some, TODAY, DAY)?.load).toBeCloseTo(1, 2)
  })

  test('what many play is left lower before what is heard alone', () => {
    const all = SIX.map(w => (w.key === 'A' ? { ...w, priority: 0.5 } : w))
    expect(loadOf(all, TODAY, DAY)?.offers?.lower.map(l => l.key)).toEqual(['A', 'D'])
  })
})

describe('how full the days are', () => {
  test('relaxed up to 0.8, tight up to 1.1', () => {
    const one = [work('A', 84, 120, { minutesSoFar: 20, lnGainSoFar: 0.1 })] // 59.4 minutes in five days: 11.9 a day
    const word = (climbing: number) => loadOf(one, TODAY, { minutes: climbing, beside: () => 0 })?.word
    expect([15, 14, 11, 10].map(word)).toEqual(['relaxed', 'tight', 'tight', 'over'])
  })

  test('a nearer date asks for more a day', () => {
    const day = { minutes: 30, beside: () => 0 }
    const at = (readyBy: string) => loadOf([work('A', 84, 120, { readyBy })], TODAY, day)?.load ?? 0
    expect(at('2031-03-15')).toBeCloseTo(at('2031-03-17') * 2, 9)
  })

  test('says nothing without a date, after it, or when all is reached', () => {
    for (const w of [
      work('A', 84, 120, { readyBy: null }),
      work('A', 84, 120, { readyBy: TODAY }),
      work('A', 120, 120),
    ])
      expect(loadOf([w], TODAY, DAY)).toBeNull()
  })

  test('minutes for a day count the longer warm-up and the rests that come with them', () => {
    const beside = (m: number) => m / 5 + 5 * Math.ceil(m / 30)
    const found = loadOf(SIX, TODAY, { minutes: 45, beside })
    const minutes = found?.offers?.minutes ?? 0
    expect(minutes - beside(minutes)).toBeGreaterThanOrEqual(223.7 / 5)
    expect(minutes).toBeGreaterThan(59)
  })
})
