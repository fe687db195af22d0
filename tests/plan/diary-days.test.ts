import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { downKey, rhythmKey, sectionKey, takeKey, warmUpKey } from '../../src/ladder/key.ts'
import { dayAfter } from '../../src/music/day.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import { daysOf, weeksOf } from '../../src/plan/diary-days.ts'
import { diaryLines } from '../../src/plan/diary-words.ts'
import { namesOf } from '../../src/plan/practiced-names.ts'
import { overture } from '../store/scene.ts'
import { played } from './played.ts'

const RUN = sectionKey('p0000002')
const OPENING = sectionKey('p0000001')
/** A Monday. */
const MONDAY = '2031-03-10'
const day = (n: number) => dayAfter(MONDAY, n)

describe('the days of practice', () => {
  test('add up: each visit in which something was played, once, on its day', () => {
    const anyVisit = fc.record({
      key: fc.constantFrom(RUN, OPENING, takeKey('cold', RUN)),
      day: fc.integer({ min: 0, max: 5 }),
      played: fc.integer({ min: 0, max: 9 }),
      judged: fc.integer({ min: 0, max: 9 }),
      clean: fc.integer({ min: 0, max: 9 }),
      seconds: fc.integer({ min: 0, max: 400 }),
    })
    fc.assert(
      fc.property(fc.array(anyVisit, { maxLength: 20, size: 'max' }), all => {
        const visits = all.map(v => played(v.key, day(v.day), { ...v, verdicts: v.judged }))
        const days = daysOf(visits)
        expect(days.map(d => d.date)).toEqual([...new Set(days.map(d => d.date))].sort())
        for (const d of days) {
          const own = visits.filter(v => v.played > 0 && v.time.startsWith(d.date))
          const sum = (f: (v: (typeof visits)[number]) => number, of = own): number =>
            of.reduce((n, v) => n + f(v), 0)
          const sums = (of = own) => ({
            visits: of.length,
            seconds: sum(v => v.seconds, of),
            repetitions: sum(v => v.played, of),
            verdicts: sum(v => v.verdicts, of),
            clean: sum(v => v.clean, of),
          })
          expect(d).toMatchObject(sums())
          expect(d.entries.map(e => e.key)).toEqual([...new Set(own.map(v => v.key))])
          for (const e of d.entries) expect(e).toMatchObject(sums(own.filter(v => v.key === e.key)))
        }
        expect(days.reduce((n, d) => n + d.visits, 0)).toBe(visits.filter(v => v.played > 0).length)
      }),
    )
  })

  test('tell a ceiling on the day on which it rose, with what it was before; of a ladder that leads down it falls', () => {
    const told = (key: string, ...ceilings: readonly (number | undefined)[]) =>
      daysOf(ceilings.map((c, i) => played(key, day(i), c === undefined ? {} : { ceiling: c }))).map(d =>
        d.entries.flatMap(e => [e.ceiling && typed(e.ceiling), e.before && typed(e.before)]),
      )
    expect(told(RUN, undefined, 92, 92, 88, 96)).toEqual([
      [null, null],
      ['92', null],
      [null, '92'],
      [null, '92'],
      ['96', '92'],
    ])
    expect(told(downKey(RUN), 72, 76, 66)).toEqual([
      ['72', null],
      [null, '72'],
      ['66', '72'],
    ])
    // Several visits of one day: the hardest of them.
    const [one] = daysOf([100, 112, 104].map(ceiling => played(RUN, MONDAY, { ceiling })))
    expect(one?.entries[0]?.ceiling).toEqual(tempo(112))
  })

  test('say that the goal was reached when one of its visits did', () => {
    const goals = (...all: readonly boolean[]) =>
      daysOf(all.map(goal => played(RUN, MONDAY, { goal })))[0]?.entries[0]?.goal
    expect([goals(false, false), goals(false, true), goals(true, false)]).toEqual([false, true, true])
  })

  test('beyond any calendar are left out', () => {
    const years = ['1899-12-31', '1900-01-01', '8999-12-31', '9000-01-01']
    expect(daysOf(years.map(y => played(RUN, y))).map(d => d.date)).toEqual(['1900-01-01', '8999-12-31'])
  })
})

describe('the weeks', () => {
  const weeks = (from: string, today: string, ...days: readonly string[]) =>
    weeksOf(daysOf(days.map(d => played(RUN, d))), from, today).map(w => [
      w.from,
      w.to,
      w.length,
      w.days.length,
    ])

  test('go from Monday to Sunday; those without practice are left out, the one under way is there', () => {
    expect(weeks(day(-14), day(2), day(-14), day(-8), day(-1), day(1))).toEqual([
      [day(-14), day(-8), 7, 2],
      [day(-7), day(-1), 7, 1],
      [day(0), day(6), 3, 1],
    ])
    expect(weeks(day(-14), day(2), day(-14))).toEqual([
      [day(-14), day(-8), 7, 1],
      [day(0), day(6), 3, 0],
    ])
  })

  test('are counted from the day that was asked for, and hold nothing before it', () => {
    expect(weeks(day(-5), day(0), day(-6), day(-5))).toEqual([
      [day(-7), day(-1), 5, 1],
      [day(0), day(6), 1, 0],
    ])
    expect(weeks(day(-7), day(0), day(-6))[0]).toEqual([day(-7), day(-1), 7, 1])
    expect(weeks(day(-1), day(0), day(-1))[0]).toEqual([day(-7), day(-1), 1, 1])
    expect(weeks(day(2), day(2), day(2))).toEqual([[day(0), day(6), 1, 1]])
    expect(weeks(day(3), day(2))).toEqual([])
  })

  test('are as long as there is practice in them, where a clock was ahead', () => {
    expect(weeks(day(0), day(2), day(4))).toEqual([[day(0), day(6), 5, 1]])
    expect(weeks(day(0), day(2), day(8))).toEqual([
      [day(0), day(6), 3, 0],
      [day(7), day(13), 7, 1],
    ])
  })

  test('have the seconds of their days', () => {
    const days = daysOf([played(RUN, day(0)), played(RUN, day(3), { seconds: 30 }), played(RUN, day(7))])
    expect(weeksOf(days, day(0), day(8)).map(w => w.seconds)).toEqual([150, 120])
  })
})

describe('the page of the diary', () => {
  const page = (today: string, ...visits: readonly ReturnType<typeof played>[]) =>
    diaryLines(weeksOf(daysOf(visits), day(-7), today), today, namesOf([overture]))

  test('has a week in one sentence, and weeks apart', () => {
    const lines = page(
      day(1),
      played(RUN, day(-7)),
      played(RUN, day(-6)),
      played(RUN, day(0), { seconds: 29 }),
    )
    expect(lines.filter(l => l.includes('eek'))).toEqual([
      'Week of March 3: played on two of seven days, 4 minutes.',
      'This week: played on one of two days, less than a minute.',
    ])
    expect(lines.flatMap((l, i) => (l === '' ? [i] : []))).toEqual([5])
    expect(page(day(0), played(RUN, day(0), { seconds: 60 }))[0]).toBe(
      'This week: played on one of one day, 1 minute.',
    )
  })

  test('has one line for what was played of a passage, with all that was counted', () => {
    expect(
      page(day(0), played(RUN, day(0), { ceiling: 96, goal: true, played: 1, verdicts: 1, clean: 1 })),
    ).toEqual([
      'This week: played on one of one day, 2 minutes.',
      'Monday, March 10: 2 minutes',
      '  Weir Street Overture, run at the weir, m. 41-44: 1 repetition, 1 of 1 clean, ceiling quarter = 96, the goal reached',
    ])
    const [, , line] = page(day(0), played(RUN, day(0), { verdicts: 0, clean: 0, played: 2 }))
    expect(line).toBe('  Weir Street Overture, run at the weir, m. 41-44: 2 repetitions')
  })

  test('of more than one thing a heading and a line each; of a take its tempo, and no goal', () => {
    const takes = [
      played(RUN, day(0)),
      played(rhythmKey(RUN, '3:1'), day(0)),
      played(takeKey('cold', RUN), day(0), { ceiling: 92, goal: true, played: 1, verdicts: 1, clean: 1 }),
      played(OPENING, day(0)),
    ]
    expect(page(day(0), ...takes).slice(2)).toEqual([
      '  Weir Street Overture, run at the weir, m. 41-44',
      '    as a whole: 4 repetitions, 3 of 4 clean',
      '    rhythm 3:1: 4 repetitions, 3 of 4 clean',
      '    cold: 1 repetition, 1 of 1 clean, clean at quarter = 92',
      '  Weir Street Overture, opening, m. 1-8: 4 repetitions, 3 of 4 clean',
    ])
  })

  test('names a warm-up, and says a ceiling of before in the same note value', () => {
    const warm = warmUpKey({ warmUp: 'first-minutes', item: 'One scale', key: 'D major', tempo: tempo(60) })
    expect(page(day(0), played(warm, day(0))).at(-1)).toBe(
      '  Warm-up, One scale, D major, from quarter = 60: 4 repetitions, 3 of 4 clean',
    )
    const lines = page(day(1), played(RUN, day(0), { ceiling: 92 }), played(RUN, day(1), { ceiling: 96 }))
    expect(lines.at(-1)).toMatch(/ceiling quarter = 96, before 92$/)
  })
})
