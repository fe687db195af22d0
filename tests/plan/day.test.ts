import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { dayAfter } from '../../src/music/day.ts'
import { typed } from '../../src/music/tempo.ts'
import { type Day, dayOf } from '../../src/plan/day.ts'
import type { Item } from '../../src/plan/item.ts'
import { slotsOf } from '../../src/plan/slots.ts'
import { finished, type Seam, type Work } from '../../src/plan/work.ts'
import { SIX, seam, TODAY, work } from './scene.ts'

const plan = (works: readonly Work[], minutes: number, seams: readonly Seam[] = []): Day =>
  dayOf(works, seams, { date: TODAY, minutes, played: [] })
const outline = (d: Day) => d.items.map(i => `${i.at} ${i.k}${'key' in i ? ` ${i.key}` : ''}`)
const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)
const endOf = (items: readonly Item[]): number => Math.max(...items.map(i => i.at + i.minutes))
const only = <K extends Item['k']>(d: Day, k: K) => d.items.filter((i): i is Item & { k: K } => i.k === k)
const visitsOf = (d: Day, key: string) => only(d, 'section').filter(i => i.key === key)
const minutesOf = (d: Day, key: string): number => sum(visitsOf(d, key).map(i => i.minutes))

describe('45 minutes on six sections, one of them finished', () => {
  const day = plan(SIX, 45)

  test('are set out like a rehearsal order: the hardest first, an early rest, a cold take after it', () => {
    expect(outline(day)).toEqual([
      '0 fundamentals',
      '9 section D',
      '12 section A',
      '15 rest',
      '20 cold',
      '20.5 section D',
      '23.5 section F',
      '26.5 section B',
      '29.5 section D',
      '32.5 section A',
      '35.5 section F',
      '38.5 section B',
      '41.5 through',
    ])
    expect(day.later.map(w => w.label)).toEqual(['section C'])
  })

  test('a section begins where the ladder says, then goes on where it stopped; a rung may be finished', () => {
    expect(visitsOf(day, 'D').map(i => [i.from && typed(i.from), i.again, i.over])).toEqual([
      ['58', false, 60],
      [null, true, 60],
      [null, true, 60],
    ])
  })

  test('last time through: once each at the mark below 90 % of the ceiling', () => {
    expect(only(day, 'through')[0]?.takes.map(t => [t.key, t.tempo && typed(t.tempo)])).toEqual([
      ['D', '58'],
      ['A', '72'],
      ['F', '80'],
      ['B', '88'],
    ])
  })

  test('a finished section has its cold take at the goal, and nothing else', () => {
    expect(only(day, 'cold').map(i => [i.take.key, i.take.tempo && typed(i.take.tempo)])).toEqual([
      ['E', '120'],
    ])
    expect(visitsOf(day, 'E')).toEqual([])
  })

  test('it is too much for the days there are, and half an hour of log makes the gains its own', () => {
    expect(day.load?.word).toBe('over')
    expect(day.assumed).toBe(false)
    expect(plan([work('G', 84, 120)], 45).assumed).toBe(true)
  })
})

describe('fundamentals', () => {
  test.each([
    [10, 3.5],
    [24, 8],
    [40, 8],
    [45, 9],
    [60, 12],
    [120, 15],
  ])('of %d minutes: %d', (minutes, warm) => {
    expect(plan(SIX, minutes).items[0]).toMatchObject({ k: 'fundamentals', at: 0, minutes: warm })
  })
})

describe('fewer sections with six minutes or more, the others in turn', () => {
  const eight = Array.from({ length: 8 }, (_, i) => work(`${i}`, 90 + i, 120))

  test('40 minutes on eight sections: four of them, six minutes each', () => {
    const day = plan(eight, 40)
    const keys = [...new Set(only(day, 'section').map(i => i.key))]
    expect(keys.length).toBe(4)
    expect(day.later.length).toBe(4)
    expect(sum(keys.map(k => minutesOf(day, k))) / 4).toBeGreaterThanOrEqual(5.5)
  })

  test('what was left out yesterday comes today', () => {
    const rested = ['1', '4', '6', '7']
    const works = eight.map(w => ({ ...w, lastPlayedDaysAgo: rested.includes(w.key) ? 2 : 1 }))
    const keys = new Set(only(plan(works, 40), 'section').map(i => i.key))
    expect([...keys].sort()).toEqual(rested)
  })

  test.each([
    [3, 30],
    [6, 40],
    [8, 45],
    [12, 60],
    [5, 20],
  ])('%d sections, %d minutes a day: each at least every second day, for two weeks', (n, minutes) => {
    let works: readonly Work[] = Array.from({ length: n }, (_, i) =>
      work(`${i}`, 70 + 4 * i, 126, { readyBy: null, lastPlayedDaysAgo: null, secondsPerRepetition: 8 }),
    )
    for (let d = 0; d < 14; d++) {
      const day = dayOf(works, [], { date: dayAfter(TODAY, d), minutes, played: [] })
      const now = new Set(only(day, 'section').map(i => i.key))
      works = works.map(w => ({
        ...w,
        lastPlayedDaysAgo: now.has(w.key) ? 1 : w.lastPlayedDaysAgo === null ? null : w.lastPlayedDaysAgo + 1,
      }))
      if (d > 0) for (const w of works) expect(w.lastPlayedDaysAgo).toBeLessThanOrEqual(2)
    }
  })
})

test('one long slot parts two short ones of another section, though it has more minutes', () => {
  const works = [
    work('long', 84, 120, { secondsPerRepetition: 40 }),
    work('short', 100, 120, { secondsPerRepetition: 14 }),
  ]
  const slots = slotsOf(works, TODAY, 14)
  expect(slots.map(s => [s.work.key, s.minutes])).toEqual([
    ['short', 3],
    ['long', 8],
    ['short', 3],
  ])
})

describe('seams', () => {
  const works = [work('1', 104, 120), work('2', 108, 120), work('3', 100, 120)]

  test('are joined where both sides are at 85 % of their goals, those first that were left out longest', () => {
    const seams = [seam('1', '2', { lastPlayedDaysAgo: 1 }), seam('2', '3'), seam('1', '2', { key: 'older' })]
    const day = plan(works, 45, seams)
    expect(only(day, 'seam').map(i => [i.key, i.minutes])).toEqual([['older', 3]])
  })

  test('have nearly a third of the day shortly before the date', () => {
    const soon = works.map(w => ({ ...w, readyBy: dayAfter(TODAY, 2) }))
    const day = plan(soon, 60, [seam('1', '2'), seam('1', '2', { key: 'again' })])
    expect(sum(only(day, 'seam').map(i => i.minutes))).toBe(16)
  })
})

const half = (least: number, most: number) => fc.integer({ min: least * 2, max: most * 2 }).map(n => n / 2)
const anyWork = (key: string) =>
  fc
    .record({
      ceiling: fc.option(fc.integer({ min: 60, max: 126 }), { freq: 6 }),
      seconds: half(4, 70),
      days: fc.option(fc.integer({ min: 2, max: 20 }), { freq: 5 }),
      priority: fc.constantFrom(0.5, 1, 1, 2),
      minutes: fc.integer({ min: 0, max: 60 }),
      gain: fc.integer({ min: 0, max: 30 }),
      ago: fc.option(fc.integer({ min: 0, max: 6 })),
    })
    .map(o =>
      work(key, o.ceiling, 120, {
        secondsPerRepetition: o.seconds,
        readyBy: o.days === null ? null : dayAfter(TODAY, o.days),
        priority: o.priority,
        minutesSoFar: o.minutes,
        lnGainSoFar: o.gain / 100,
        lastPlayedDaysAgo: o.ago,
      }),
    )
const anyWorks = fc
  .integer({ min: 1, max: 10 })
  .chain(n => fc.tuple(...Array.from({ length: n }, (_, i) => anyWork(`${i}`))))
const anyMinutes = fc.integer({ min: 10, max: 180 })

describe('of any day', () => {
  /** Runs of the same piece as a trial two days before have a length of their own. */
  const noTrials = (works: readonly Work[]) => works.filter(w => w.readyBy !== dayAfter(TODAY, 2))
  const each = (law: (d: Day, works: readonly Work[]) => void): void =>
    fc.assert(
      fc.property(anyWorks, anyMinutes, (all, minutes) => {
        const works = noTrials(all)
        law(
          plan(
            works,
            minutes,
            works.slice(1).map((w, i) => seam(`${i}`, w.key)),
          ),
          works,
        )
      }),
      { numRuns: 300 },
    )

  test('items follow each other in whole and half minutes, within the minutes there are', () => {
    each(d => {
      let at = 0
      for (const i of d.items) {
        expect(i.at).toBe(at)
        expect((i.minutes * 2) % 1).toBe(0)
        expect(i.minutes).toBeGreaterThan(0)
        at += i.minutes
      }
      expect(at).toBeLessThanOrEqual(d.minutes)
    })
  })

  test('a slot has three minutes and twelve repetitions, where the day is long enough, and never more than eight minutes', () => {
    let long = 0
    each((d, works) => {
      const slots = only(d, 'section')
      for (const i of slots) expect(i.minutes).toBeLessThanOrEqual(8)
      const alone = new Set(slots.map(i => i.key)).size === 1
      if (alone && slots.length === 1) return
      for (const i of slots) {
        const w = works.find(x => x.key === i.key) as Work
        const twelve = (12 * w.secondsPerRepetition) / 60
        expect(i.minutes).toBeGreaterThanOrEqual(Math.min(8, Math.max(3, twelve)))
        if (i.minutes > 3) long++
      }
    })
    expect(long).toBeGreaterThan(100)
  })

  test('no section follows itself', () => {
    each(d => {
      d.items.forEach((i, n) => {
        const next = d.items[n + 1]
        if (i.k === 'section' && next?.k === 'section') expect(next.key).not.toBe(i.key)
      })
    })
  })

  test('a section has six minutes, unless only half of them fit or it is all alone in a short day', () => {
    each((d, works) => {
      const keys = [...new Set(only(d, 'section').map(i => i.key))]
      const open = works.filter(w => !finished(w)).length
      if (keys.length > Math.max(2, Math.ceil(open / 2)))
        for (const k of keys) expect(minutesOf(d, k)).toBeGreaterThanOrEqual(5.5)
    })
  })

  test('in each half hour five minutes of rest; the first after 10 to 15 minutes', () => {
    let rests = 0
    each(d => {
      const first = only(d, 'rest')[0]
      if (first) {
        rests++
        if (d.minutes > 20) {
          expect(first.at).toBeGreaterThanOrEqual(10)
          expect(first.at).toBeLessThanOrEqual(15)
        }
      }
      if (d.minutes < 30) return
      const resting = (t: number) => d.items.some(i => i.k === 'rest' && i.at <= t && t < i.at + i.minutes)
      for (let from = 0; from + 30 <= endOf(d.items); from += 0.5) {
        const halves = Array.from({ length: 60 }, (_, i) => from + i / 2).filter(resting).length
        expect(halves / 2).toBeGreaterThanOrEqual(5)
      }
    })
    expect(rests).toBeGreaterThan(100)
  })

  test('finished sections have at most one cold take, never a second time on a day, and no visit', () => {
    each((d, works) => {
      const done = new Set(works.filter(finished).map(w => w.key))
      const takes = only(d, 'cold').map(i => i.take.key)
      expect(new Set(takes).size).toBe(takes.length)
      for (const k of takes) {
        expect(done.has(k)).toBe(true)
        expect(works.find(w => w.key === k)?.lastPlayedDaysAgo).not.toBe(0)
      }
      for (const i of only(d, 'section')) expect(done.has(i.key)).toBe(false)
    })
  })

  test('the last time through has at most five sections, all played today', () => {
    each(d => {
      const keys = new Set(only(d, 'section').map(i => i.key))
      for (const i of only(d, 'through')) {
        expect(i.takes.length).toBeLessThanOrEqual(5)
        for (const t of i.takes) expect(keys.has(t.key)).toBe(true)
      }
      expect(only(d, 'through').length).toBeLessThanOrEqual(1)
    })
  })

  test('every open section is played today or named as in turn later; the same plan comes out twice', () => {
    each((d, works) => {
      const now = new Set(only(d, 'section').map(i => i.key))
      const open = works.filter(w => !finished(w))
      expect(d.later.map(w => w.label).sort()).toEqual(
        open
          .filter(w => !now.has(w.key))
          .map(w => w.label)
          .sort(),
      )
      expect(
        plan(
          works,
          d.minutes,
          works.slice(1).map((w, i) => seam(`${i}`, w.key)),
        ),
      ).toEqual(d)
    })
  })

  test('the first slot is on the section with most minutes, unless another one has to keep it company throughout', () => {
    let first = 0
    each(d => {
      const slots = only(d, 'section')
      const [opening] = slots
      const keys = [...new Set(slots.map(i => i.key))]
      const pressing = keys.some(k => visitsOf(d, k).length * 2 > slots.length)
      if (!opening || pressing) return
      first++
      expect(minutesOf(d, opening.key)).toBe(Math.max(...keys.map(k => minutesOf(d, k))))
    })
    expect(first).toBeGreaterThan(50)
  })
})

test('nothing to practice: fundamentals alone', () => {
  expect(outline(plan([], 40))).toEqual(['0 fundamentals'])
  expect(plan([], 40).load).toBeNull()
})
