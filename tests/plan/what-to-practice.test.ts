import { describe, expect, test } from 'vitest'
import { historiesOf, type Visit } from '../../src/ladder/history.ts'
import { joinKey, sectionKey, takeKey } from '../../src/ladder/key.ts'
import { dayAfter } from '../../src/music/day.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import { partsOf, seamsOf, worksOf } from '../../src/plan/works.ts'
import type { Passage, Piece } from '../../src/repertoire/piece.ts'
import { UP_AND_DOWN, WEIR } from '../repertoire/weir.ts'
import { played } from './played.ts'

/** A Saturday evening. */
const DAY = '2031-03-15'
const NOW = { wall: Date.parse(`${DAY}T18:00:00Z`), offset: 0 }
const ago = (n: number) => dayAfter(DAY, -n)

const sections = [...UP_AND_DOWN]
const CUT: Passage = { ...WEIR, sections }
const KEY = sectionKey('weir0001')
const [UP, DOWN] = sections.map(s => sectionKey(s.id)) as [string, string]
const BOTH = joinKey(['s0000001', 's0000002'])

const piece = (...passages: readonly Passage[]): Piece => ({
  v: 2,
  id: 'a1b2c3d4',
  title: 'Weir Street Overture',
  passages,
})
const from = (p: Piece, visits: readonly Visit[], date = DAY) => {
  const all = historiesOf(visits)
  const parts = partsOf(all, [p])
  return { works: worksOf(all, parts, date, NOW), seams: seamsOf(all, parts, date, NOW) }
}
const one = (p: Partial<Passage>, visits: readonly Visit[] = [], date = DAY) => {
  const [w] = from(piece({ ...WEIR, ...p } as Passage), visits, date).works
  if (!w) throw new Error('nothing to practice')
  return w
}
/** A cold take or another one: clean, unless the test says otherwise. */
const take = (kind: 'cold' | 'entry', key: string, day: string, bpm: number, slipped = false): Visit =>
  played(takeKey(kind, key), day, {
    clean: slipped ? 0 : 1,
    verdicts: 1,
    ...(slipped ? {} : { ceiling: bpm }),
    last: { tempo: tempo(bpm), slipped, time: `${day}T12:00:00.000Z`, offset: 0 },
  })
const reached = (key: string, day: string, ceiling: number, other = {}): Visit =>
  played(key, day, {
    ceiling,
    last: { tempo: tempo(ceiling), slipped: false, time: `${day}T12:00:00.000Z`, offset: 0 },
    ...other,
  })

describe('how long one repetition takes', () => {
  const seconds = (p: Partial<Passage>, ...visits: readonly Visit[]) => one(p, visits).secondsPerRepetition

  test('the music at its ceiling, a measure of count-in, and three seconds of rest', () => {
    // Sixteen beats at 96: 10 s; four more: 2.5 s.
    expect(seconds({}, reached(KEY, ago(1), 96))).toBeCloseTo(15.5, 9)
    // Of 6/8 twelve eighths at quarter = 120: 3 s, and six more are 1.5 s.
    expect(seconds({ meter: '6/8', count: 2 }, reached(KEY, ago(1), 120))).toBeCloseTo(7.5, 9)
  })

  test('without a ceiling from its start, else from the mark below 60 % of the goal', () => {
    expect(seconds({ start: '80' })).toBeCloseTo(12 + 3 + 3, 9)
    expect(seconds({})).toBeCloseTo((20 * 60) / 72 + 3, 9)
  })

  test('a measure that is very short is counted in for a second and a half', () => {
    expect(seconds({ meter: '1/4', goal: '120' }, reached(KEY, ago(1), 120))).toBeCloseTo(2 + 1.5 + 3, 9)
    expect(seconds({ meter: '4/4', goal: '200' }, reached(KEY, ago(1), 200))).toBeCloseTo(4.8 + 1.5 + 3, 9)
  })
})

describe('what a passage asks for', () => {
  test('what it matters is its weight', () => {
    expect(
      (['must', 'as usual', 'can wait', undefined] as const).map(
        matters => one({ ...(matters ? { matters } : {}) }).priority,
      ),
    ).toEqual([2, 1, 0.5, 1])
  })

  test('is known by its own name, its piece, its goal, and the minutes and the gain in its log', () => {
    expect(one({ start: '80' })).toMatchObject({
      key: KEY,
      label: 'run at the weir, m. 41-44',
      piece: 'Weir Street Overture',
      goal: tempo(120),
      ceiling: null,
      secure: null,
      ready: false,
      cleanColds: 0,
      coldDaysAgo: null,
      readyBy: null,
      minutesSoFar: 0,
      lnGainSoFar: 0,
      lastPlayedDaysAgo: null,
      oneAbove: null,
      minutesToPass: null,
    })
    const w = one({}, [reached(KEY, ago(4), 96), reached(KEY, ago(2), 108, { seconds: 300 })])
    expect([w.minutesSoFar, w.lastPlayedDaysAgo]).toEqual([7, 2])
    expect(w.lnGainSoFar).toBeCloseTo(Math.log(108 / 96), 9)
    for (const name of ['open', 'top', 'cold', 'down', 'whole', 'long', 'asRead', 'week'])
      expect(w).not.toHaveProperty(name)
  })

  test('begins where its ladder does: a mark lower after a day, more after each day without it', () => {
    const next = (n: number, date = DAY) => {
      const t = one({}, [reached(KEY, ago(n), 96)], date).next
      return t && typed(t)
    }
    expect([next(1), next(2)]).toEqual(['92', '88'])
    // A day to come is so many days later.
    expect(next(1, dayAfter(DAY, 1))).toBe('88')
    expect(one({}, [reached(KEY, ago(1), 96)], dayAfter(DAY, 3)).lastPlayedDaysAgo).toBe(4)
    // What has neither start nor ceiling looks for one.
    expect([next(1) !== null, one({}).next, one({ start: '80' }).next]).toEqual([true, null, tempo(80)])
  })

  test('one rung above the ceiling, and the minutes until it is passed', () => {
    const w = one({}, [reached(KEY, ago(1), 96)])
    expect(w.oneAbove && typed(w.oneAbove)).toBe('100')
    // 92, 96 and 100, three clean ones each of 15.5 s.
    expect(w.minutesToPass).toBeCloseTo((9 * 15.5) / 60, 9)
    expect(one({}, [reached(KEY, ago(1), 120)]).oneAbove).toBeNull()
  })

  test('a goal that nobody knows yet, and the days of the week', () => {
    const all = { ...historiesOf([]), week: [1, 3] }
    const [w] = worksOf(all, partsOf(all, [{ ...piece(WEIR), sure: 'open' }]), DAY, NOW)
    expect(w).toMatchObject({ open: true, week: [1, 3] })
  })
})

describe('cold takes', () => {
  test('make it ready when the goal was reached and two days were clean', () => {
    const climbed = reached(KEY, ago(5), 120)
    const takes = [take('cold', KEY, ago(3), 120), take('cold', KEY, ago(1), 120)]
    expect(one({}, [climbed, ...takes])).toMatchObject({
      ready: true,
      cleanColds: 2,
      coldDaysAgo: 1,
      secure: tempo(120),
    })
    expect(one({}, [climbed, takes[0] as Visit])).toMatchObject({
      ready: false,
      cleanColds: 1,
      coldDaysAgo: 3,
    })
    const failed = take('cold', KEY, ago(0), 120, true)
    expect(one({}, [climbed, takes[0] as Visit, failed])).toMatchObject({ cleanColds: 0, coldDaysAgo: 0 })
    // A take is practice too.
    expect(one({}, [climbed, takes[0] as Visit]).lastPlayedDaysAgo).toBe(3)
    expect(one({}, [reached(KEY, ago(1), 120), take('cold', KEY, ago(3), 120)]).lastPlayedDaysAgo).toBe(1)
  })

  test('of a range go from one end to the other', () => {
    const range = { goal: '116', goalTop: '124' }
    const climbed = reached(KEY, ago(5), 124)
    const w = one(range, [climbed])
    expect([w.top && typed(w.top), w.cold && typed(w.cold)]).toEqual(['124', '116'])
    const lower = [3, 1].map(n => take('cold', KEY, ago(n), 116))
    const later = one(range, [climbed, ...lower])
    expect([later.cold && typed(later.cold), later.cleanColds, later.ready]).toEqual(['124', 0, false])
  })
})

describe('what is long', () => {
  const long = (p: Partial<Passage>, ...visits: readonly Visit[]) => one(p, visits)

  test('has no ladder: more than 32 measures, until it has a start or a first rung', () => {
    expect([32, 33].map(count => long({ count }).long)).toEqual([undefined, true])
    expect(long({ count: 33, start: '60' }).long).toBeUndefined()
    expect(long({ count: 33 }, reached(KEY, ago(1), 60)).long).toBeUndefined()
    expect(long({ count: 33 }).asRead).toBeUndefined()
  })

  test('so has a whole part as it was read; until it was played once it is only for cutting', () => {
    expect(long({ whole: true })).toMatchObject({ long: true, asRead: true })
    const entered = long({ whole: true }, take('entry', KEY, ago(2), 72))
    expect([entered.long, entered.asRead, entered.lastPlayedDaysAgo]).toEqual([true, undefined, 2])
    // Of what has a ladder a run from the entrance says nothing of when it was practiced.
    expect(long({}, take('entry', KEY, ago(2), 72)).lastPlayedDaysAgo).toBeNull()
    expect(long({ whole: true, start: '60' }).asRead).toBeUndefined()
  })
})

describe('a passage that is cut', () => {
  const keys = (...visits: readonly Visit[]) => from(piece(CUT), visits).works.map(w => w.key)
  const labels = (...visits: readonly Visit[]) => from(piece(CUT), visits).works.map(w => w.label)

  test('is practiced in its sections, each named with its first measure, and knows the whole', () => {
    expect(keys()).toEqual([UP, DOWN])
    expect(labels()).toEqual(
      [
        'run at the weir, m. 41-44, section up, from m. 41',
        'run at the weir, m. 41-44, section down, from m. 43',
      ].map(l => l.replace(', m. 41-44', '')),
    )
    const [up] = from(piece(CUT), []).works
    expect(up?.whole).toMatchObject({
      key: KEY,
      label: 'run at the weir, m. 41-44',
      goal: tempo(120),
      top: null,
    })
    // Sixteen beats at the goal, four of count-in, three seconds.
    expect(up?.whole?.seconds).toBeCloseTo(8 + 2 + 3, 9)
    expect(from(piece({ ...CUT, goal: '116', goalTop: '124' }), []).works[0]?.whole?.top).toEqual(tempo(124))
  })

  test('of a passage named by its measures the label begins with these; the rest of it has its own name', () => {
    const numbered = { ...CUT, name: '41-44', sections: [sections[0]] } as Passage
    expect(from(piece(numbered), []).works.map(w => w.label)).toEqual([
      'm. 41-44, section up, from m. 41',
      'm. 41-44, the rest: m. 43-44',
    ])
  })

  test('is practiced as a whole too once both sections are at their goals', () => {
    expect(keys(reached(UP, ago(2), 120), reached(DOWN, ago(2), 116))).toEqual([UP, DOWN])
    const done = [reached(UP, ago(2), 120), reached(DOWN, ago(2), 120)]
    expect(keys(...done)).toEqual([UP, DOWN, KEY])
    expect(from(piece(CUT), done).works.map(w => w.whole?.key)).toEqual([KEY, KEY, undefined])
    // Once it is practiced as a whole it is there once.
    expect(keys(...done, reached(KEY, ago(1), 120))).toEqual([KEY])
  })

  const near = [reached(UP, ago(3), 104), reached(DOWN, ago(3), 104)]

  test('is practiced as a whole instead of its sections while that holds', () => {
    expect(keys(...near, reached(KEY, ago(1), 96))).toEqual([KEY])
    const [whole] = from(piece(CUT), [...near, reached(KEY, ago(1), 96)]).works
    expect(whole).toMatchObject({ label: 'run at the weir, m. 41-44', ceiling: tempo(96), minutesSoFar: 2 })
    expect(whole).not.toHaveProperty('whole')
    expect(keys(...near)).toEqual([UP, DOWN])
  })

  test('sections that were joined are one, named after both, with a log of their own', () => {
    const three = [
      ...sections.slice(0, 1),
      { ...sections[1], to: '44' },
      { id: 's0000003', name: 'out', from: '44', to: 'end' },
    ] as NonNullable<Passage['sections']>
    const visits = [...near, reached(BOTH, ago(1), 96)]
    const { works, seams } = from(piece({ ...CUT, sections: three }), visits)
    expect(works.map(w => [w.key, w.label])).toEqual([
      [BOTH, 'run at the weir, section up+down, from m. 41'],
      [sectionKey('s0000003'), 'run at the weir, section out, from m. 44'],
    ])
    expect(works[0]).toMatchObject({ ceiling: tempo(96), minutesSoFar: 2, lastPlayedDaysAgo: 1 })
    expect(works[0]?.whole?.key).toBe(KEY)
    // Twelve beats at 96, four of count-in, three seconds.
    expect(works[0]?.secondsPerRepetition).toBeCloseTo(7.5 + 2.5 + 3, 9)
    expect(seams.map(s => s.of)).toEqual([[BOTH, sectionKey('s0000003')]])
    expect(seams[0]?.label).toBe('run at the weir, section up+down+out, at m. 44')
  })

  test('a seam begins where its sections as one would', () => {
    const { seams } = from(piece(CUT), near)
    expect(seams.map(s => [s.label, s.next && typed(s.next)])).toEqual([
      // 92 % of 104 is 95.7.
      ['run at the weir, section up+down, at m. 43', '92'],
    ])
    expect(from(piece(WEIR), near).seams).toEqual([])
  })
})
