import { describe, expect, test } from 'vitest'
import type { Visit } from '../../src/ladder/history.ts'
import { takeKey, warmUpKey } from '../../src/ladder/key.ts'
import { tempo } from '../../src/music/tempo.ts'
import { type Asked, dayOf } from '../../src/plan/day.ts'
import type { DayLine, Made } from '../../src/plan/order.ts'
import { underWay } from '../../src/plan/rest-of-day.ts'
import { restIsDue } from '../../src/plan/rests.ts'
import type { Work } from '../../src/plan/work.ts'
import { TODAY, work } from './scene.ts'

const A = 'section A even'
const B = 'section B even'
const WORKS = [work(A, 84, 120), work(B, 100, 120)]
const asked: Asked = { date: TODAY, minutes: 45, played: [] }
const items = dayOf(WORKS, [], asked).items
const untouched: Made = { order: [], skipped: [], over: [] }
const EVENING = 18 * 60
const NOW = Date.parse(`${TODAY}T17:00:00Z`)
const warm = warmUpKey({ warmUp: 'first-minutes', item: 'One scale', key: null, tempo: tempo(60) })

/** So many minutes on something, begun so long ago. */
const visit = (key: string, minutes: number, ago: number): Visit => ({
  id: `${key} ${ago}`,
  key,
  time: new Date(NOW - ago * 60_000).toISOString(),
  offset: 60,
  clean: 5,
  verdicts: 5,
  played: 5,
  seconds: minutes * 60,
  ceiling: null,
  goal: false,
  last: null,
  rule: '3-in-a-row',
  stops: [],
  air: null,
})
const lines = (today: readonly Visit[], made: Partial<Made> = {}, works: readonly Work[] = WORKS) =>
  underWay(items, asked, {
    works,
    seams: [],
    made: { ...untouched, ...made },
    today,
    now: NOW,
    clock: EVENING,
  })
const open = (all: readonly DayLine[]) => all.filter(l => l.state === 'open')
const minutes = (all: readonly DayLine[]): number => all.reduce((sum, l) => sum + l.item.minutes, 0)
const on = (all: readonly DayLine[], key: string) =>
  all.filter(l => (l.item.kind === 'section' ? l.item.key : 'take' in l.item ? l.item.take.key : '') === key)
const playedNow = (w: Work, ceiling: number): Work => ({
  ...w,
  ceiling: tempo(ceiling),
  lastPlayedDaysAgo: 0,
})

describe('a day that is under way', () => {
  test('stays as it was in the morning until something is played or skipped', () => {
    expect(lines([]).map(l => l.item)).toEqual(items)
  })

  test('what reached its goal has no more turns; its minutes go to the other', () => {
    const first = `section ${A} #1`
    const now = lines(
      [visit(warm, 9, 20), visit(A, 4, 5)],
      {
        over: [
          { name: 'fundamentals #1', at: EVENING - 20, minutes: 9 },
          { name: first, at: EVENING - 5, minutes: 6 },
        ],
      },
      [playedNow(work(A, 84, 120), 120), work(B, 100, 120)],
    )
    expect(now.filter(l => l.state === 'done').map(l => l.name)).toEqual(['fundamentals #1', first])
    expect(on(open(now), A).filter(l => l.item.kind === 'section')).toEqual([])
    expect(on(open(now), B).length).toBeGreaterThan(0)
    expect(minutes(open(now))).toBeGreaterThan(30)
    expect(minutes(open(now))).toBeLessThanOrEqual(32)
  })

  test('a turn that was ended early gives back its minutes', () => {
    const over = [
      { name: 'fundamentals #1', at: EVENING - 20, minutes: 9 },
      { name: `section ${A} #1`, at: EVENING - 2, minutes: 8 },
    ]
    const now = lines([visit(warm, 9, 20), visit(A, 1, 2)], { over })
    expect(minutes(open(now))).toBe(35)
    expect(now.find(l => l.name === `section ${A} #1`)?.item.minutes).toBe(8)
  })

  test('what is skipped comes no more while there is something else, and leaves no minute idle', () => {
    const now = lines([], { skipped: [`section ${A} #1`] })
    expect(now.filter(l => l.state === 'skipped').map(l => l.name)).toEqual([`section ${A} #1`])
    expect(on(open(now), A).filter(l => l.item.kind === 'section')).toEqual([])
    expect(minutes(open(now))).toBe(45)
  })

  test('fundamentals that are skipped leave their minutes to the music', () => {
    const now = lines([], { skipped: ['fundamentals #1'] })
    expect(open(now)[0]?.item.kind).not.toBe('fundamentals')
    expect(minutes(open(now))).toBe(45)
  })

  test('each line has a name of its own, also after one that only a later plan had', () => {
    const over = [1, 2, 3, 4].map(n => ({ name: `section ${A} #${n}`, at: EVENING - 20 + n, minutes: 4 }))
    const now = lines([visit(A, 16, 20)], { over })
    expect(new Set(now.map(l => l.name)).size).toBe(now.length)
    expect(on(now, A).filter(l => l.state === 'done' && l.item.kind === 'section')).toHaveLength(4)
  })

  test('what is for once a day does not come again', () => {
    const through = items.flatMap(i => (i.kind === 'through' ? i.takes : []))
    expect(through.length).toBeGreaterThan(0)
    const today = through.map(t => visit(takeKey('through', t.key), 0.2, 3))
    expect(open(lines(today)).some(l => l.item.kind === 'through')).toBe(false)
  })

  test('a rest that was skipped does not stand there again at once', () => {
    const played = [visit(warm, 9, 24), visit(A, 15, 15)]
    const over = [{ name: 'fundamentals #1', at: EVENING - 24, minutes: 9 }]
    expect(open(lines(played, { over }))[0]?.item.kind).toBe('rest')
    expect(open(lines(played, { over, skipped: ['rest #1'] }))[0]?.item.kind).not.toBe('rest')
  })

  test('after 15 minutes of music the first rest comes first, after 25 more each later one, and no sooner', () => {
    const since = (music: number, rested: boolean) => restIsDue({ music, rested })
    expect([14.5, 15].map(m => since(m, false))).toEqual([false, true])
    expect([15, 24.5, 25].map(m => since(m, true))).toEqual([false, false, true])
  })

  test('a rest that comes first is part of the minutes that are left', () => {
    const played = [visit(warm, 9, 24), visit(A, 15, 15)]
    const over = [{ name: 'fundamentals #1', at: EVENING - 24, minutes: 9 }]
    expect(minutes(open(lines(played, { over })))).toBe(45 - 24)
  })

  test('what is at its goal keeps its turns until it is played once today, however few times', () => {
    const atGoal = [work(A, 120, 120, { cleanColds: 0 }), work(B, 100, 120)]
    const once = { ...visit(A, 1, 5), played: 1, verdicts: 1 }
    const turns = (today: readonly Visit[]) =>
      on(open(lines(today, {}, atGoal)), A).filter(l => l.item.kind === 'section').length
    expect(turns([visit(warm, 9, 20), once])).toBe(0)
  })

  test('when the minutes are played nothing is open', () => {
    expect(open(lines([visit(A, 25, 60), visit(B, 20, 25)]))).toEqual([])
  })
})
