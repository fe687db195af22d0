import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { dayAfter } from '../../src/music/day.ts'
import { tempo } from '../../src/music/tempo.ts'
import { type Slot, slotsOf } from '../../src/plan/slots.ts'
import { daysToClimb, needOf, type Work } from '../../src/plan/work.ts'
import { TODAY, work } from './scene.ts'

const inDays = (n: number) => dayAfter(TODAY, n)
const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)
const keys = (slots: readonly Slot[]) => slots.map(s => s.work.key)
/** Minutes of each that has some. */
const minutesOf = (slots: readonly Slot[]): Readonly<Record<string, number>> =>
  Object.fromEntries(
    [...new Set(keys(slots))].map(k => [k, sum(slots.filter(s => s.work.key === k).map(s => s.minutes))]),
  )
/** Practiced enough to know how it goes. */
const known = { minutesSoFar: 20, lnGainSoFar: 0.15 }

describe('why something is in the day', () => {
  const why = (other: Partial<Work>, ceiling: number | null = 100) =>
    slotsOf([work('it', ceiling, 120, { readyBy: null, ...other })], TODAY, 5)[0]?.why

  test.each<[string, Partial<Work>, number | null]>([
    ['asked', { today: true, lastPlayedDaysAgo: 5 }, 120],
    ['kept', { ready: true, lastPlayedDaysAgo: 5 }, 120],
    ['first', { lastPlayedDaysAgo: null, readyBy: inDays(1) }, null],
    ['away', { lastPlayedDaysAgo: 3, readyBy: inDays(1) }, 120],
    ['cold', { lastPlayedDaysAgo: 2, readyBy: inDays(1) }, 120],
    ['near', { ...known, readyBy: inDays(3) }, 100],
    ['closest', { ...known, readyBy: inDays(4) }, 100],
    ['closest', { minutesSoFar: 10 }, 100],
    ['gap', { minutesSoFar: 9.5 }, 100],
    ['gap', { minutesSoFar: 0, lastPlayedDaysAgo: 0 }, 100],
  ])('%s', (said, other, ceiling) => {
    expect(why(other, ceiling)).toBe(said)
  })
})

describe('how a share is cut into visits', () => {
  test.each([
    // About five minutes each,
    [5, 10, [5]],
    [7, 10, [7]],
    [7.5, 10, [4, 3.5]],
    [12, 10, [6, 6]],
    [12.5, 10, [4.5, 4, 4]],
    // not shorter than twelve repetitions,
    [7.5, 20, [7.5]],
    [8, 20, [4, 4]],
    [13.5, 22, [4.5, 4.5, 4.5]],
    [13, 22, [6.5, 6.5]],
    [15, 25, [5, 5, 5]],
    // three minutes at least and eight at most.
    [8, 1, [4, 4]],
    [8, 90, [8]],
    [8.5, 90, [4.5, 4]],
    [16, 90, [8, 8]],
    [16.5, 90, [5.5, 5.5, 5.5]],
    [0.5, 10, [0.5]],
  ])('%s minutes at %s seconds a repetition', (minutes, secondsPerRepetition, visits) => {
    const slots = slotsOf([work('it', 100, 120, { secondsPerRepetition })], TODAY, minutes)
    expect(slots.map(s => s.minutes)).toEqual(visits)
  })

  test('no minutes, or nothing to play: no visit', () => {
    expect(slotsOf([work('it', 100, 120)], TODAY, 0)).toEqual([])
    expect(slotsOf([work('it', 100, 120)], TODAY, -4)).toEqual([])
    expect(slotsOf([], TODAY, 20)).toEqual([])
  })
})

describe('who has a turn', () => {
  const many = (n: number, other: (i: number) => Partial<Work>) =>
    Array.from({ length: n }, (_, i) => work(`${i}`, 100, 120, { ...known, readyBy: null, ...other(i) }))

  test('what is away for three days has one as far as the minutes reach; of others two thirds of the minutes', () => {
    const behind = { readyBy: inDays(1), minutesSoFar: 60, lnGainSoFar: 0.1 }
    const away = (lastPlayedDaysAgo: number) =>
      keys(
        slotsOf(
          many(9, i => ({ lastPlayedDaysAgo, ...(i === 0 ? behind : {}) })),
          TODAY,
          18,
        ),
      )
    expect(new Set(away(3)).size).toBe(6)
    // Four short turns are twelve of 18 minutes; what is left goes to the one that asks for more.
    expect(new Set(away(2)).size).toBe(4)
    // As many as fit exactly.
    const fit = (minutes: number) =>
      new Set(
        keys(
          slotsOf(
            many(9, () => ({ lastPlayedDaysAgo: 3 })),
            TODAY,
            minutes,
          ),
        ),
      ).size
    expect([14.5, 15, 15.5].map(fit)).toEqual([4, 5, 5])
  })

  test('longest away first, then what matters more; what was asked for before all, though it was played today', () => {
    const ago = many(6, i => ({ lastPlayedDaysAgo: 3 + i }))
    expect(new Set(keys(slotsOf(ago, TODAY, 9)))).toEqual(new Set(['5', '4', '3']))
    const matter = many(6, i => ({ lastPlayedDaysAgo: 4, priority: i === 4 ? 2 : i === 2 ? 1 : 0.5 }))
    expect(new Set(keys(slotsOf(matter, TODAY, 6)))).toEqual(new Set(['4', '2']))
    const asked = many(6, i => (i === 1 ? { lastPlayedDaysAgo: 0, today: true } : { lastPlayedDaysAgo: 9 }))
    expect(keys(slotsOf(asked, TODAY, 6))).toContain('1')
    // Never played counts as three days away.
    const never = many(4, i => ({ lastPlayedDaysAgo: i === 3 ? null : i === 2 ? 4 : 2 }))
    expect(new Set(keys(slotsOf(never, TODAY, 6)))).toEqual(new Set(['2', '3']))
  })

  test('where all was played today: what asks for least has what is left', () => {
    const all = [work('far', 80, 120, known), work('near', 110, 120, known)].map(w => ({
      ...w,
      lastPlayedDaysAgo: 0,
    }))
    expect(minutesOf(slotsOf(all, TODAY, 2))).toEqual({ near: 2 })
    expect(Object.keys(minutesOf(slotsOf(all, TODAY, 20))).sort()).toEqual(['far', 'near'])
  })
})

/**
 * The same minutes by a slow count, from what the page says of them: short turns, longest away first; what is hardly known
 * by how far it has to go; of the others as much as it asks for, 14 minutes at most, in the order of what they cost; then
 * all of them larger alike until no minute is left.
 */
const byHand = (works: readonly Work[], minutes: number): ReadonlyMap<string, number> => {
  const has = new Map<string, number>()
  let left = minutes
  const give = (w: Work, m: number): void => {
    has.set(w.key, (has.get(w.key) ?? 0) + Math.min(m, left))
    left -= Math.min(m, left)
  }
  const turn = (w: Work) => Math.min(8, Math.max(3, Math.ceil((w.secondsPerRepetition * 12) / 30 - 1e-9) / 2))
  const days = (w: Work) => w.lastPlayedDaysAgo ?? 3
  const waiting = works.filter(w => days(w) > 0 || w.today)
  const asked = waiting.filter(w => w.today)
  const rest = waiting.filter(w => !w.today)
  const inTurn = [asked, rest].flatMap(all =>
    [...new Set(all.map(days))]
      .sort((a, b) => b - a)
      .flatMap(d => [2, 1, 0.5].flatMap(p => all.filter(w => days(w) === d && w.priority === p))),
  )
  let short = 0
  for (const w of inTurn) {
    short += turn(w)
    const most = w.today || days(w) >= 3 ? minutes : (minutes * 2) / 3
    if (short > most + 1e-9 && has.size > 0) break
    give(w, turn(w))
  }
  const cost = (w: Work) => (needOf(w) * daysToClimb(w, TODAY)) / (w.priority * w.priority)
  const cheap = [...works].sort((a, b) => cost(a) - cost(b))
  const order = [...cheap.filter(w => has.has(w.key)), ...cheap.filter(w => !has.has(w.key))]
  const whole = sum(works.map(w => needOf(w) * w.priority))
  for (const w of order.filter(x => x.minutesSoFar < 10)) {
    const share = (minutes * needOf(w) * w.priority) / whole
    if (has.has(w.key) ? share > (has.get(w.key) ?? 0) : share >= turn(w))
      give(w, share - (has.get(w.key) ?? 0))
  }
  for (const w of order.filter(x => x.minutesSoFar >= 10)) {
    const wants = Math.min(14, Math.max(turn(w), needOf(w) / daysToClimb(w, TODAY)))
    if (!has.has(w.key) && left < turn(w)) break
    give(w, Math.max(0, wants - (has.get(w.key) ?? 0)))
  }
  if (has.size === 0 && order[0]) give(order[0], minutes)
  const used = sum([...has.values()])
  return new Map([...has].map(([k, m]) => [k, (m * minutes) / used]))
}

const anyWork = (key: string) =>
  fc
    .record({
      ceiling: fc.option(fc.integer({ min: 60, max: 120 }), { freq: 6 }),
      seconds: fc.integer({ min: 4, max: 50 }),
      days: fc.option(fc.integer({ min: 1, max: 20 }), { freq: 5 }),
      priority: fc.constantFrom(0.5, 1, 1, 2),
      minutes: fc.constantFrom(0, 5, 9.5, 10, 25, 60),
      gain: fc.integer({ min: 0, max: 40 }),
      ago: fc.option(fc.integer({ min: 0, max: 5 })),
      asked: fc.integer({ min: 0, max: 7 }),
      colds: fc.integer({ min: 0, max: 2 }),
    })
    .map(o =>
      work(key, o.ceiling, 120, {
        secondsPerRepetition: o.seconds,
        readyBy: o.days === null ? null : inDays(o.days),
        priority: o.priority,
        minutesSoFar: o.minutes,
        lnGainSoFar: o.gain / 100,
        lastPlayedDaysAgo: o.ago,
        ...(o.asked === 0 ? { today: true } : {}),
        cleanColds: o.colds,
        ready: o.colds === 2,
      }),
    )
const anyWorks = fc
  .integer({ min: 1, max: 9 })
  .chain(n => fc.tuple(...Array.from({ length: n }, (_, i) => anyWork(`${i}`))))
const half = (least: number, most: number) => fc.integer({ min: least * 2, max: most * 2 }).map(n => n / 2)

test('law: each has the minutes that a count by hand gives it, to the half minute', () => {
  fc.assert(
    fc.property(anyWorks, half(0.5, 90), (works, minutes) => {
      const slots = slotsOf(works, TODAY, minutes)
      expect(sum(slots.map(s => s.minutes))).toBe(minutes)
      const now = minutesOf(slots)
      for (const [key, m] of byHand(works, minutes)) {
        expect(Math.abs((now[key] ?? 0) - m), key).toBeLessThan(0.5 + 1e-6)
        delete (now as Record<string, number>)[key]
      }
      expect(now).toEqual({})
    }),
    { numRuns: 150 },
  )
})

describe('in which order', () => {
  test('law: what has most minutes left, not what was just played, unless another one would then follow itself', () => {
    let [pressing, freely, alone] = [0, 0, 0]
    fc.assert(
      fc.property(anyWorks, half(5, 90), (works, minutes) => {
        const slots = slotsOf(works, TODAY, minutes)
        slots.forEach((s, i) => {
          const left = slots.slice(i)
          const last = slots[i - 1]?.work.key
          const open = [...new Set(keys(left))].filter(k => k !== last)
          const count = (k: string) => left.filter(x => x.work.key === k).length
          const has = (k: string) => sum(left.filter(x => x.work.key === k).map(x => x.minutes))
          const must = open.find(k => count(k) > left.length / 2)
          if (open.length === 0) alone++
          else if (must === undefined) {
            freely++
            expect(open).toContain(s.work.key)
            expect(has(s.work.key)).toBe(Math.max(...open.map(has)))
          } else {
            pressing++
            expect(s.work.key).toBe(must)
          }
        })
        // Of one passage the longer visits come first.
        for (const k of new Set(keys(slots))) {
          const own = slots.filter(s => s.work.key === k).map(s => s.minutes)
          expect(own).toEqual(own.toSorted((a, b) => b - a))
        }
      }),
      { numRuns: 100 },
    )
    expect(Math.min(pressing, freely, alone)).toBeGreaterThan(5)
  })

  test('after runs of whole passages: first what was not run, else what was run longest ago', () => {
    const whole = (key: string) => ({ key, label: key, goal: tempo(120), top: null, seconds: 60 })
    const of = (key: string, passage: string, ceiling: number) =>
      work(key, ceiling, 120, { whole: whole(passage) })
    // What has furthest to go has most minutes.
    const works = [of('a', 'Weir', 80), of('b', 'Coda', 95), of('c', 'Bridge', 105)]
    const first = (...run: readonly string[]) => slotsOf(works, TODAY, 30, run)[0]?.work.key
    expect(first()).toBe('a')
    expect(first('Weir')).toBe('b')
    expect(first('Weir', 'Coda')).toBe('c')
    expect(first('Weir', 'Coda', 'Bridge')).toBe('a')
    expect(first('Bridge', 'Coda', 'Weir')).toBe('c')
    expect(first('Coda', 'Weir', 'Bridge')).toBe('b')
    expect(first('Weir', 'Bridge', 'Weir', 'Coda')).toBe('c')
  })
})
