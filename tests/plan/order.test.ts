import { describe, expect, test } from 'vitest'
import type { Visit } from '../../src/ladder/history.ts'
import { takeKey, warmUpKey } from '../../src/ladder/key.ts'
import { tempo } from '../../src/music/tempo.ts'
import { dayOf } from '../../src/plan/day.ts'
import {
  type DayLine,
  endOf,
  linesOf,
  type Made,
  moved,
  named,
  nextOpen,
  timesOf,
} from '../../src/plan/order.ts'
import { SIX, TODAY } from './scene.ts'
import { setDay } from './set-day.ts'

const KEYED = SIX.map(w => ({ ...w, key: `section ${w.key} even` }))
const items = setDay(name => `section ${name} even`)
const untouched: Made = { order: [], skipped: [], over: [] }
const EVENING = 18 * 60

const visit = (key: string, seconds: number, other: Partial<Visit> = {}): Visit => ({
  id: 'v',
  key,
  time: `${TODAY}T17:00:00Z`,
  offset: 60,
  clean: 1,
  verdicts: 1,
  played: 1,
  seconds,
  ceiling: null,
  goal: false,
  last: null,
  rule: '3-in-a-row',
  stops: [],
  air: null,
  ...other,
})
const states = (today: readonly Visit[], made = untouched) =>
  Object.fromEntries(linesOf(items, made, today).map(l => [l.name, l.state]))
const names = (lines: readonly DayLine[]) => lines.map(l => l.name)

describe('the lines of a day', () => {
  test('have names that tell the slots of one section apart', () => {
    const all = named(items).map(n => n.name)
    expect(all.slice(0, 6)).toEqual([
      'fundamentals #1',
      'section section D even #1',
      'section section A even #1',
      'rest #1',
      'cold section E even #1',
      'section section D even #2',
    ])
    expect(new Set(all).size).toBe(all.length)
  })

  test('are marked done from what was played today', () => {
    const warm = warmUpKey({ warmUp: 'first-minutes', item: 'One scale', key: null, tempo: tempo(60) })
    const now = states([
      visit(warm, 200),
      visit('section D even', 170),
      visit(takeKey('cold', 'section E even'), 12),
    ])
    expect(now).toMatchObject({
      'fundamentals #1': 'done',
      'section section D even #1': 'done',
      'section section D even #2': 'open',
      'section section A even #1': 'open',
      'cold section E even #1': 'done',
      'rest #1': 'open',
    })
  })

  test('a slot that was hardly begun is still open; a round of rhythms belongs to it', () => {
    expect(states([visit('section D even', 60)])).toMatchObject({ 'section section D even #1': 'open' })
    expect(states([visit('section D even', 60), visit('section D 3:1', 90)])).toMatchObject({
      'section section D even #1': 'done',
    })
  })

  test('last time through is over when each of its takes was played', () => {
    const takes = ['D', 'A', 'F'].map(k => visit(takeKey('through', `section ${k} even`), 10))
    expect(states(takes)).toMatchObject({ 'through #1': 'open' })
    expect(states([...takes, visit(takeKey('through', 'section B even'), 10)])).toMatchObject({
      'through #1': 'done',
    })
  })

  test('what was ended early or skipped is kept; playing it after all counts more than skipping', () => {
    const made: Made = {
      order: [],
      skipped: ['rest #1', 'section section A even #1'],
      over: [{ name: 'section section D even #1', at: EVENING }],
    }
    expect(states([visit('section A even', 180)], made)).toMatchObject({
      'section section D even #1': 'done',
      'rest #1': 'skipped',
      'section section A even #1': 'done',
    })
  })
})

describe('clock times follow', () => {
  const lines = linesOf(items, untouched, [])

  test('the plan, from now on', () => {
    expect(timesOf(lines, EVENING)).toEqual(items.map(i => EVENING + i.at))
    expect(endOf(lines, EVENING)).toBe(EVENING + 43.5)
  })

  test('what is skipped takes no time, what is over began when it did', () => {
    const made: Made = { order: [], skipped: ['rest #1'], over: [{ name: 'fundamentals #1', at: 1000 }] }
    const now = linesOf(items, made, [])
    const times = timesOf(now, EVENING)
    expect(times.slice(0, 5)).toEqual([1000, EVENING, EVENING + 3, null, EVENING + 6])
    expect(endOf(now, EVENING)).toBe(EVENING + 43.5 - 9 - 5)
  })
})

describe('earlier and later', () => {
  const lines = linesOf(items, untouched, [])
  const second = 'section section A even #1'

  test('a line changes places with its neighbor; there and back is as before', () => {
    const later = moved(lines, second, 1)
    expect(names(later).slice(2, 4)).toEqual(['rest #1', second])
    expect(names(moved(later, second, -1))).toEqual(names(lines))
  })

  test('over what is done or skipped it goes to the next open place; at the ends it stays', () => {
    const skipped = linesOf(items, { ...untouched, skipped: ['rest #1'] }, [])
    expect(names(moved(skipped, second, 1)).slice(2, 5)).toEqual([
      'rest #1',
      'cold section E even #1',
      second,
    ])
    expect(moved(lines, 'fundamentals #1', -1)).toBe(lines)
    expect(moved(lines, 'through #1', 1)).toBe(lines)
  })

  test('the order is kept when other minutes bring other lines: new ones come after what they follow', () => {
    const made: Made = { ...untouched, order: names(moved(lines, 'rest #1', -1)) }
    const longer = dayOf(KEYED, [], { date: TODAY, minutes: 60, played: [] }).items
    const again = linesOf(longer, made, [])
    expect(new Set(names(again))).toEqual(new Set(named(longer).map(n => n.name)))
    expect(names(again).indexOf('rest #1')).toBeLessThan(names(again).indexOf(second))
  })
})

test('the next open line is the one after, then the first that was passed over, then none', () => {
  const open = linesOf(items, untouched, [])
  const last = open.length - 1
  const only = (at: number) => open.map((l, i): DayLine => ({ ...l, state: i === at ? 'open' : 'done' }))
  expect([nextOpen(open, 3), nextOpen(only(1), 3), nextOpen(only(last), 0)]).toEqual([3, 1, last])
  expect(nextOpen(only(-1), 0)).toBeNull()
})
