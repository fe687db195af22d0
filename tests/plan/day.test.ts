import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { dayAfter } from '../../src/music/day.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import { type Asked, type Day, dayOf } from '../../src/plan/day.ts'
import type { Item } from '../../src/plan/item.ts'
import { EARLY, LATER, SOONEST } from '../../src/plan/rests.ts'
import { slotsOf } from '../../src/plan/slots.ts'
import { isDone, keyOfWhole, type Seam, type Work } from '../../src/plan/work.ts'
import { SIX, seam, TODAY, work } from './scene.ts'

const plan = (
  works: readonly Work[],
  minutes: number,
  seams: readonly Seam[] = [],
  other: Partial<Asked> = {},
): Day => dayOf(works, seams, { date: TODAY, minutes, played: [], ...other })
const outline = (d: Day) => d.items.map(i => `${i.at} ${i.kind}${'key' in i ? ` ${i.key}` : ''}`)
const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)
const endOf = (items: readonly Item[]): number => Math.max(...items.map(i => i.at + i.minutes))
const only = <K extends Item['kind']>(d: Day, k: K) =>
  d.items.filter((i): i is Item & { kind: K } => i.kind === k)
const visitsOf = (d: Day, key: string) => only(d, 'section').filter(i => i.key === key)
const minutesOf = (d: Day, key: string): number => sum(visitsOf(d, key).map(i => i.minutes))
const musicOf = (d: Day): number =>
  sum(d.items.filter(i => i.kind !== 'rest' && i.kind !== 'fundamentals').map(i => i.minutes))

describe('45 minutes on six passages, one of them at its goal', () => {
  const day = plan(SIX, 45)

  test('begin with fundamentals and the cold take, have one rest, and end with whole passages', () => {
    expect(outline(day)[0]).toBe('0 fundamentals')
    expect(outline(day)[1]).toBe('9 cold')
    expect(day.items.at(-1)?.kind).toBe('through')
    expect(only(day, 'rest').map(i => i.minutes)).toEqual([5])
    expect(endOf(day.items)).toBe(45)
  })

  test('each has a turn; what is well known and asks for least has more', () => {
    expect(day.later).toEqual([])
    expect(minutesOf(day, 'A')).toBeGreaterThan(minutesOf(day, 'D'))
    for (const w of SIX) expect(minutesOf(day, w.key)).toBeGreaterThanOrEqual(3)
  })

  test('a section begins where the ladder says, then goes on where it stopped; a rung may be finished', () => {
    expect(visitsOf(day, 'A').map(i => [i.from && typed(i.from), i.again, i.over])).toEqual([
      ['81', false, 60],
      [null, true, 60],
    ])
  })

  test('last time through: once each at the mark below 90 % of the ceiling', () => {
    const takes = only(day, 'through').flatMap(i => i.takes.map(t => [t.key, t.tempo && typed(t.tempo)]))
    expect(Object.fromEntries(takes)).toMatchObject({ A: '72', B: '88', D: '58', F: '80' })
  })

  test('what is at its goal has its cold take there first, then keeps a place until it is ready', () => {
    expect(only(day, 'cold').map(i => [i.take.key, i.take.tempo && typed(i.take.tempo)])).toEqual([
      ['E', '120'],
    ])
    expect(visitsOf(day, 'E').map(i => i.why)).toEqual(['cold'])
    const ready = SIX.map(w => (w.key === 'E' ? { ...w, ready: true, cleanColds: 2 } : w))
    expect(visitsOf(plan(ready, 45), 'E')).toEqual([])
    expect(only(plan(ready, 45), 'cold').map(i => i.take.key)).toEqual(['E'])
  })

  test('half an hour of log makes the gains its own', () => {
    expect(day.assumed).toBe(false)
    expect(plan([work('G', 84, 120)], 45).assumed).toBe(true)
  })
})

describe('fundamentals', () => {
  test.each([
    [10, 3.5],
    [20, 5],
    [40, 8],
    [45, 9],
    [60, 12],
    [120, 24],
  ])('of %d minutes: %d', (minutes, warm) => {
    expect(plan(SIX, minutes).items[0]).toMatchObject({ kind: 'fundamentals', at: 0, minutes: warm })
  })

  test('as many as the player wants, or none', () => {
    expect(plan(SIX, 60, [], { fundamentals: 20 }).items[0]).toMatchObject({
      kind: 'fundamentals',
      minutes: 20,
    })
    const none = plan(SIX, 60, [], { fundamentals: 0 })
    expect(only(none, 'fundamentals')).toEqual([])
    expect(none.items[0]?.at).toBe(0)
  })
})

describe('a day fills itself with what there is', () => {
  test('45 minutes on one passage have at least 30 of music, and not the ladder alone', () => {
    const day = plan([work('A', 84, 120)], 45)
    expect(musicOf(day)).toBeGreaterThanOrEqual(30)
    expect(only(day, 'goal').length).toBeGreaterThan(0)
    expect(only(day, 'silent').length).toBeGreaterThan(0)
  })

  test('120 minutes on two have at least 80', () => {
    expect(musicOf(plan([work('A', 84, 120), work('B', 100, 120)], 120))).toBeGreaterThanOrEqual(80)
  })

  test('where all is ready it says so; what follows the cold takes is a gift', () => {
    const ready = (key: string) => work(key, 120, 120, { ready: true, cleanColds: 2 })
    const day = plan([ready('1'), ready('2')], 40)
    expect(day.allReady).toBe(true)
    expect(only(day, 'cold').map(i => i.take.key)).toEqual(['1', '2'])
    expect(plan([ready('1'), work('2', 120, 120)], 40).allReady).toBe(false)
  })

  test('nothing to practice: fundamentals alone', () => {
    expect(outline(plan([], 40))).toEqual(['0 fundamentals'])
    expect(plan([], 40)).toMatchObject({ load: null, allReady: false })
  })
})

describe('what counts most', () => {
  const days = (n: number) => dayAfter(TODAY, n)
  const known = { minutesSoFar: 20, lnGainSoFar: 0.15 }

  test('behind and near its date outranks easy and far', () => {
    const day = plan(
      [
        work('far', 112, 120, { ...known, readyBy: days(20) }),
        work('near', 84, 120, { ...known, readyBy: days(3) }),
      ],
      40,
    )
    expect(minutesOf(day, 'near')).toBeGreaterThan(2 * minutesOf(day, 'far'))
  })

  test('must be ready, as usual, can wait', () => {
    const minutes = (priority: number) => {
      const others = ['1', '2', '3', '4'].map(k => work(k, 90, 120, known))
      return minutesOf(plan([...others, work('it', 90, 120, { ...known, priority })], 40), 'it')
    }
    expect(minutes(2)).toBeGreaterThan(minutes(1))
    expect(minutes(1)).toBeGreaterThanOrEqual(minutes(0.5))
    expect(minutes(0.5)).toBeLessThan(minutes(2))
  })

  test('of what waited equally long the one that matters more comes first', () => {
    const waited = (key: string, priority: number) =>
      work(key, 90, 120, { ...known, priority, lastPlayedDaysAgo: 5, secondsPerRepetition: 30 })
    const works = [waited('can wait', 0.5), waited('usual', 1), waited('must', 2)]
    for (const all of [works, works.toReversed()]) {
      const day = plan(all, 10, [], { fundamentals: 0 })
      expect(visitsOf(day, 'must').length).toBeGreaterThan(0)
      expect(minutesOf(day, 'must')).toBeGreaterThanOrEqual(minutesOf(day, 'can wait'))
    }
    expect(slotsOf(works, TODAY, 6).map(s => s.work.key)).not.toContain('can wait')
  })

  test('cold takes have a fifth of the day at most, and as many come as fit into it', () => {
    const atGoal = Array.from({ length: 30 }, (_, i) =>
      work(`${i}`, 120, 120, { secondsPerRepetition: 30, lastPlayedDaysAgo: 2 }),
    )
    for (const minutes of [10, 20, 40, 60]) {
      const takes = only(plan(atGoal, minutes, [], { fundamentals: 0 }), 'cold')
      const half = minutes / 5 / 0.5
      expect(sum(takes.map(i => i.minutes))).toBeLessThanOrEqual(minutes / 5)
      expect(takes.length, `${minutes}`).toBe(half)
    }
  })

  test('what is asked for today is there, and says so', () => {
    const many = Array.from({ length: 20 }, (_, i) => work(`${i}`, 90, 120, known))
    const key = plan(many, 30).later.at(-1)?.key
    const day = plan(
      many.map(w => (w.key === key ? { ...w, today: true } : w)),
      30,
    )
    expect(visitsOf(day, key ?? '').map(i => i.why)).toContain('asked')
  })

  test.each([
    [3, 30],
    [6, 40],
    [8, 45],
    [12, 60],
    [5, 20],
  ])('%d sections, %d minutes a day: each at least every third day, for two weeks', (n, minutes) => {
    let works: readonly Work[] = Array.from({ length: n }, (_, i) =>
      work(`${i}`, 70 + 4 * i, 126, { readyBy: null, lastPlayedDaysAgo: null, secondsPerRepetition: 8 }),
    )
    for (let d = 0; d < 14; d++) {
      const day = dayOf(works, [], { date: dayAfter(TODAY, d), minutes, played: [] })
      const now = new Set(only(day, 'section').map(i => i.key))
      works = works.map(w => ({
        ...w,
        minutesSoFar: w.minutesSoFar + minutesOf(day, w.key),
        lastPlayedDaysAgo: now.has(w.key) ? 1 : w.lastPlayedDaysAgo === null ? null : w.lastPlayedDaysAgo + 1,
      }))
      if (d > 1) for (const w of works) expect(w.lastPlayedDaysAgo).toBeLessThanOrEqual(3)
    }
  })

  test('a long movement is played through each third day, and has no ladder until it is cut', () => {
    const long = work('movement', null, 120, {
      long: true,
      secondsPerRepetition: 240,
      next: tempo(80),
      lastPlayedDaysAgo: 3,
    })
    const day = plan([long, work('A', 84, 120)], 45)
    expect(visitsOf(day, 'movement')).toEqual([])
    expect(only(day, 'run').map(i => [i.minutes, i.takes.map(t => t.key)])).toEqual([[4, ['movement']]])
    expect(only(day, 'run')[0]).toMatchObject({ piece: 'Weir Street Overture', cold: false })
    expect(only(plan([{ ...long, lastPlayedDaysAgo: 2 }, work('A', 84, 120)], 45), 'run')).toEqual([])
    const runs = (other: Partial<Work>, minutes = 45) =>
      only(plan([{ ...long, ...other }, work('A', 84, 120)], minutes, [], { fundamentals: 0 }), 'run').length
    expect([runs({ lastPlayedDaysAgo: null }), runs({ asRead: true, lastPlayedDaysAgo: null })]).toEqual([
      1, 0,
    ])
    // Two days before its date it has the trial from the entrance, and on the last evening its run.
    expect([1, 2, 3].map(d => runs({ readyBy: dayAfter(TODAY, d) }))).toEqual([1, 1, 1])
    // Half of the music at most: of 45 minutes 40 are.
    expect([1200, 1201].map(secondsPerRepetition => runs({ secondsPerRepetition }))).toEqual([1, 0])
  })
})

test('one long slot parts two short ones of another section', () => {
  const works = [
    work('long', 84, 120, { secondsPerRepetition: 40 }),
    work('short', 100, 120, { secondsPerRepetition: 14 }),
  ]
  const keys = slotsOf(works, TODAY, 21).map(s => s.work.key)
  keys.slice(1).forEach((k, i) => {
    expect(k).not.toBe(keys[i])
  })
})

describe('seams', () => {
  const works = [work('1', 104, 120), work('2', 108, 120), work('3', 100, 120)]

  test('are joined where both sides are at 85 % of their goals, those first that were left out longest', () => {
    const seams = [seam('1', '2', { lastPlayedDaysAgo: 1 }), seam('2', '3'), seam('1', '2', { key: 'older' })]
    const day = plan(works, 45, seams)
    expect(only(day, 'seam').map(i => i.key)).toEqual(['older'])
    expect(sum(only(day, 'seam').map(i => i.minutes))).toBeGreaterThanOrEqual(3)
  })
})

describe('a second visit on a day', () => {
  const afternoon = SIX.map(w => ({ ...w, lastPlayedDaysAgo: 0, coldDaysAgo: w.key === 'E' ? 0 : null }))

  test('plans what is left: no cold take after it was played, and the first rest counts what was played', () => {
    const day = plan(afternoon, 30, [], { fundamentals: 0, since: { music: 12, rested: false } })
    expect(only(day, 'cold')).toEqual([])
    expect(only(day, 'rest')[0]?.at).toBeLessThanOrEqual(3)
    expect(endOf(day.items)).toBe(30)
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
      colds: fc.integer({ min: 0, max: 2 }),
    })
    .map(o =>
      work(key, o.ceiling, 120, {
        secondsPerRepetition: o.seconds,
        readyBy: o.days === null ? null : dayAfter(TODAY, o.days),
        priority: o.priority,
        minutesSoFar: o.minutes,
        lnGainSoFar: o.gain / 100,
        lastPlayedDaysAgo: o.ago,
        cleanColds: o.colds,
        ready: o.colds === 2,
      }),
    )
const anyWorks = fc
  .integer({ min: 1, max: 10 })
  .chain(n => fc.tuple(...Array.from({ length: n }, (_, i) => anyWork(`${i}`))))
const anyMinutes = fc.integer({ min: 10, max: 180 })

describe('of any day', () => {
  /** Runs of the same piece two days before a date have a length of their own. */
  const noTrials = (works: readonly Work[]) => works.filter(w => w.readyBy !== dayAfter(TODAY, 2))
  const seamsOf = (works: readonly Work[]) => works.slice(1).map((w, i) => seam(`${i}`, w.key))
  const each = (law: (d: Day, works: readonly Work[]) => void): void =>
    fc.assert(
      fc.property(anyWorks, anyMinutes, (all, minutes) => {
        const works = noTrials(all)
        law(plan(works, minutes, seamsOf(works)), works)
      }),
      { numRuns: 100 },
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

  test('no minute is idle while something is not ready', () => {
    let full = 0
    each((d, works) => {
      if (works.every(isDone)) return
      full++
      expect(endOf(d.items)).toBe(d.minutes)
    })
    expect(full).toBeGreaterThan(60)
  })

  test('the first rest after 10 to 15 minutes of music, then one after 25 at most, and no more before the end: what the caution says', () => {
    expect([SOONEST, EARLY, LATER]).toEqual([10, 15, 25])
    let rests = 0
    each(d => {
      let stretch = 0
      let first = true
      // Inside a single take there is no place for a rest: then it comes half of one later, a minute at most.
      const takes = d.items.some(i => !['section', 'seam', 'rest', 'fundamentals'].includes(i.kind))
      const most = (): number => (first ? EARLY : LATER) + (takes ? 1 : 0)
      for (const i of d.items) {
        if (i.kind === 'fundamentals') continue
        if (i.kind !== 'rest') stretch += i.minutes
        else {
          rests++
          expect(stretch).toBeGreaterThanOrEqual(SOONEST)
          expect(stretch).toBeLessThanOrEqual(most())
          const warm = sum(only(d, 'fundamentals').map(f => f.minutes))
          expect(i.minutes).toBeGreaterThanOrEqual(Math.min(5, (d.minutes - warm) / 6))
          expect(i.minutes).toBeLessThanOrEqual(8)
          stretch = 0
          first = false
        }
      }
      expect(stretch).toBeLessThanOrEqual(most())
    })
    expect(rests).toBeGreaterThan(100)
  })

  test('right behind a run of a whole passage comes another one, where there is another one', () => {
    const whole = (key: string) => ({ key, label: key, goal: tempo(120), top: null, seconds: 40 })
    const anyPieces = fc.record({
      ceilings: fc.array(fc.integer({ min: 70, max: 118 }), { minLength: 4, maxLength: 4 }),
      ago: fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 4, maxLength: 4 }),
      minutes: fc.integer({ min: 25, max: 90 }),
    })
    let behind = 0
    fc.assert(
      fc.property(anyPieces, o => {
        const of = (n: number, key: string, p: string, days: number): Work =>
          work(key, o.ceilings[n] as number, 120, {
            piece: p,
            whole: whole(p),
            readyBy: dayAfter(TODAY, days),
            lastPlayedDaysAgo: o.ago[n] as number,
          })
        // Of one piece it is the day for a run from the entrance; the other has time.
        const works = [
          of(0, 'a', 'Run', 2),
          of(1, 'b', 'Run', 2),
          of(2, 'c', 'Coda', 9),
          of(3, 'd', 'Coda', 9),
        ]
        const day = plan(works, o.minutes)
        day.items.forEach((i, n) => {
          const next = day.items[n + 1]
          if (i.kind !== 'run' || next?.kind !== 'section') return
          const played = new Set(i.takes.map(t => t.key))
          const others = only(day, 'section').filter(
            s => !played.has(keyOfWhole(works.find(w => w.key === s.key) as Work)),
          )
          if (others.length === 0) return
          behind++
          expect(played).not.toContain(keyOfWhole(works.find(w => w.key === next.key) as Work))
        })
      }),
      { numRuns: 100 },
    )
    expect(behind).toBeGreaterThan(50)
  })

  test('a visit is about five minutes, eight at most', () => {
    each(d => {
      for (const i of only(d, 'section')) expect(i.minutes).toBeLessThanOrEqual(8)
    })
  })

  test('no section follows itself where another one is planned beside it, without a rest or something else between', () => {
    each(d => {
      const keys = new Set(only(d, 'section').map(i => i.key))
      const most = Math.max(0, ...[...keys].map(k => visitsOf(d, k).length))
      if (most * 2 > only(d, 'section').length) return
      d.items.forEach((i, n) => {
        const next = d.items[n + 1]
        if (i.kind === 'section' && next?.kind === 'section') expect(next.key).not.toBe(i.key)
      })
    })
  })

  test('cold takes come before anything else of their passage, one only, and never after it was played', () => {
    let takes = 0
    each((d, works) => {
      const seen = new Set<string>()
      for (const i of d.items) {
        if (i.kind === 'cold') {
          takes++
          expect(seen.has(i.take.key)).toBe(false)
          expect(works.find(w => w.key === i.take.key)?.lastPlayedDaysAgo).not.toBe(0)
        }
        if (i.kind === 'section') seen.add(i.key)
        if ('take' in i) seen.add(i.take.key)
      }
    })
    expect(takes).toBeGreaterThan(15)
  })

  test('every open section is played today or named as in turn later; the same plan comes out twice', () => {
    each((d, works) => {
      const now = new Set(only(d, 'section').map(i => i.key))
      if (!d.allReady)
        expect(d.later.map(w => w.key).sort()).toEqual(
          works
            .filter(w => !isDone(w) && !now.has(w.key))
            .map(w => w.key)
            .sort(),
        )
      expect(plan(works, d.minutes, seamsOf(works))).toEqual(d)
    })
  })
})
