import { describe, expect, test } from 'vitest'
import { dayAfter } from '../../src/music/day.ts'
import { tempo, tempoRatio, typed } from '../../src/music/tempo.ts'
import { chosen, loadOf } from '../../src/plan/load.ts'
import { fullGap, rateOf, type Work } from '../../src/plan/work.ts'
import { SIX, TODAY, work } from './scene.ts'

/** So many minutes a day, 14 of them for fundamentals, rests and last takes. */
const day = (minutes: number) => ({ minutes, beside: () => 14 })

describe('too much for the days there are, worked by hand', () => {
  const found = loadOf(SIX, TODAY, day(36))
  const offers = found?.offers

  test('224 minutes are needed in six days of 22', () => {
    expect(found?.load).toBeCloseTo(223.7 / (6 * 22), 2)
    expect(found?.word).toBe('over')
  })

  test('three ways: 52 minutes a day, all at 88 % of the goal, or as many as can be ready', () => {
    expect(offers?.minutes).toBe(52)
    expect(offers?.share).toBeCloseTo(0.881, 2)
    // 9.9, 20.1, 47.9 and 59.4 minutes, a minute a day for the fifth: 137 and 6 of 132, so the fourth is too much.
    expect(offers?.ready.map(x => x.key)).toEqual(['C', 'B', 'F'])
    expect(offers?.lower.map(x => x.key)).toEqual(['A', 'D'])
  })

  test('what stays lower stands where a short turn each third day brings it', () => {
    // Six minutes at 0.006 and 0.0043: 84 becomes 87.08, a mark below is 84; 66 becomes 67.7, so 66.
    expect(offers?.lower.map(x => typed(x.tempo))).toEqual(['84', '66'])
  })

  test('the first two ways do fit', () => {
    expect(loadOf(SIX, TODAY, day(offers?.minutes ?? 0))?.load).toBeLessThanOrEqual(1)
    expect(loadOf(SIX, TODAY, day((offers?.minutes ?? 0) - 1))?.load).toBeGreaterThan(1)
    const lower = chosen(SIX, { kind: 'lower', share: offers?.share ?? 1 })
    // Whole beats, on the easier side.
    expect(loadOf(lower, TODAY, day(36))?.load).toBeLessThanOrEqual(1.005)
    expect(loadOf(lower, TODAY, day(36))?.load).toBeGreaterThan(0.9)
  })

  test('more than twice the minutes there are nobody is told to play', () => {
    expect(loadOf(SIX, TODAY, day(22))?.offers?.minutes).toBeNull()
    // 52 are needed.
    expect([26, 25].map(m => loadOf(SIX, TODAY, day(m))?.offers?.minutes)).toEqual([52, null])
  })

  test('what must be ready comes first, what can wait last', () => {
    const all = SIX.map(w =>
      w.key === 'D' ? { ...w, priority: 2 } : w.key === 'C' ? { ...w, priority: 0.5 } : w,
    )
    const ways = loadOf(all, TODAY, day(36))?.offers
    expect(ways?.ready[0]?.key).toBe('D')
    expect(ways?.lower.at(-1)?.key).toBe('C')
  })
})

test('days of the week without playing are no days for it: six days, or four without a weekend', () => {
  const without = SIX.map(w => ({ ...w, week: [1, 2, 3, 4, 5] }))
  const [all, some] = [SIX, without].map(works => loadOf(works, TODAY, day(36))?.load ?? 0) as [
    number,
    number,
  ]
  expect(some / all).toBeCloseTo(6 / 4, 9)
})

describe('how full the days are', () => {
  const one = [work('A', 84, 120, { minutesSoFar: 40, lnGainSoFar: 0.22 })] // 59.4 minutes in six days
  const word = (minutes: number, works = one) => loadOf(works, TODAY, { minutes, beside: () => 0 })?.word

  test('enough below 0.35, hardly ever above 1.6, open between', () => {
    expect([29, 28, 7, 6].map(m => word(m))).toEqual(['enough', 'open', 'open', 'over'])
  })

  test('while nothing is logged less can be said: too much is told above 2.2', () => {
    const fresh = [work('A', null, 120, { next: tempo(84), lastPlayedDaysAgo: null })] // 44.6 minutes
    expect([4, 3].map(m => word(m, fresh))).toEqual(['open', 'over'])
  })

  test('at each bound it is still the calmer word', () => {
    // ln(e^.7) at a gain of .01 a minute: 70 minutes, on one day.
    const exactly = (load: number, minutesSoFar: number) => {
      const rate = 0.01
      const w = work('A', 100, 200, {
        minutesSoFar,
        lnGainSoFar: rate * (minutesSoFar + 10) - 0.08,
        readyBy: dayAfter(TODAY, 1),
      })
      const needed = fullGap(w) / rateOf(w)
      return loadOf([w], TODAY, { minutes: needed / load, beside: () => 0 })
    }
    for (const [minutes, enough, over] of [
      [30, 0.35, 1.6],
      [29, 0.35, 2.2],
    ] as const) {
      expect([enough - 1e-6, enough + 1e-6].map(l => exactly(l, minutes)?.word)).toEqual(['enough', 'open'])
      expect([over - 1e-6, over + 1e-6].map(l => exactly(l, minutes)?.word)).toEqual(['open', 'over'])
    }
    // 64 minutes in 40, to the bit.
    const known = work('A', null, 120, { minutesSoFar: 0 })
    const needed = fullGap(known) / rateOf(known) / 6
    expect(loadOf([known], TODAY, { minutes: needed / 2, beside: () => 0 })?.load).toBe(2)
    // A day without a minute for it is never enough.
    expect(loadOf([known], TODAY, { minutes: 10, beside: () => 12 })).toMatchObject({
      word: 'over',
      load: Number.POSITIVE_INFINITY,
    })
  })

  test('of what is long, done, or past, nothing is counted', () => {
    const counted = (other: Partial<Work>, ceiling = 84) =>
      loadOf([work('A', ceiling, 120, other)], TODAY, day(45)) !== null
    expect(counted({})).toBe(true)
    expect(counted({ long: false })).toBe(true)
    expect(counted({ long: true })).toBe(false)
    expect(counted({ top: tempo(126) }, 120)).toBe(true)
    expect(counted({ readyBy: dayAfter(TODAY, 1) })).toBe(true)
    expect(counted({ readyBy: dayAfter(TODAY, -1) })).toBe(false)
  })

  test('a typed start counts from the first day: the nearer to the goal, the less is needed', () => {
    const from = (start: number) =>
      loadOf([work('A', null, 120, { next: tempo(start) })], TODAY, { minutes: 10, beside: () => 0 })?.load ??
      0
    expect(from(100) / from(80)).toBeCloseTo(Math.log(120 / 100) / Math.log(120 / 80), 6)
  })

  test('a nearer date asks for more a day', () => {
    const at = (readyBy: string) =>
      loadOf([work('A', 84, 120, { readyBy })], TODAY, { minutes: 30, beside: () => 0 })?.load ?? 0
    expect(at('2031-03-14')).toBeCloseTo(at('2031-03-16') * 2, 9)
  })

  test('says nothing without a date, after it, or when all is reached', () => {
    for (const w of [
      work('A', 84, 120, { readyBy: null }),
      work('A', 84, 120, { readyBy: TODAY }),
      work('A', 120, 120),
    ])
      expect(loadOf([w], TODAY, day(45))).toBeNull()
  })

  test('minutes for a day count the longer fundamentals and the rests that come with them', () => {
    const beside = (m: number) => m / 5 + 5 * Math.ceil(m / 30)
    const minutes = loadOf(SIX, TODAY, { minutes: 40, beside })?.offers?.minutes ?? 0
    expect(minutes - beside(minutes)).toBeGreaterThanOrEqual(223.7 / 6)
    expect(minutes).toBeGreaterThan(52)
  })
})

test('all a little lower: every goal by the same share, and no range', () => {
  const [a] = chosen([work('A', 84, 120, { top: tempo(126) })], { kind: 'lower', share: 0.9 })
  expect(a && tempoRatio(a.goal, tempo(108))).toBe(1)
  expect(a && 'top' in a).toBe(false)
  expect(chosen(SIX, null)).toBe(SIX)
})

test('goals that are made easier stay whole numbers, and of a ladder that leads down the slow end is the hard one', () => {
  const goals = (share: number, goal: number, other: Partial<Work> = {}) =>
    chosen([work('A', 84, goal, other)], { kind: 'lower', share }).map(w => typed(w.goal))
  expect(goals(0.41278, 160)).toEqual(['66'])
  expect(goals(0.9, 40, { down: true })).toEqual(['45'])
  expect(goals(0.9, 41, { down: true })).toEqual(['46'])
})
