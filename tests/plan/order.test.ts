import { describe, expect, test } from 'vitest'
import type { Visit } from '../../src/ladder/history.ts'
import { takeKey, warmUpKey } from '../../src/ladder/key.ts'
import { tempo } from '../../src/music/tempo.ts'
import { dayOf } from '../../src/plan/day.ts'
import type { Item } from '../../src/plan/item.ts'
import {
  type DayLine,
  endOf,
  linesOf,
  type Made,
  moved,
  named,
  nextOpen,
  placeOf,
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

describe('a line is done', () => {
  const at = { at: 0, minutes: 4 }
  const section = (key: string): Item =>
    ({ ...(items.find(i => i.kind === 'section') as Item), ...at, key }) as Item
  const take = (kind: 'cold' | 'goal' | 'silent' | 'slow', key: string): Item =>
    ({ kind, take: { key, label: '', tempo: null }, times: 2, ...at }) as Item
  const takes = (kind: 'through' | 'run', ...keys: readonly string[]): Item =>
    ({
      kind,
      piece: 'Weir',
      cold: true,
      takes: keys.map(key => ({ key, label: '', tempo: null })),
      ...at,
    }) as Item
  const KEY = 'section A even'
  const done = (line: Item | readonly Item[], ...today: readonly Visit[]) =>
    linesOf([line].flat(), untouched, today).map(l => l.state === 'done')

  test('when three quarters of its minutes were played, of all turns on it so far', () => {
    expect([179, 180].map(s => done(section(KEY), visit(KEY, s)))).toEqual([[false], [true]])
    const twice = [section(KEY), section('section B even'), section(KEY)]
    expect(done(twice, visit(KEY, 200), visit('section A 3:1', 159))).toEqual([true, false, false])
    expect(done(twice, visit(KEY, 200), visit('section A 3:1', 160))).toEqual([true, false, true])
    // A seam and a section of one name are two things.
    const seam: Item = { kind: 'seam', key: KEY, label: '', from: null, ...at }
    expect(done([section(KEY), seam], visit(KEY, 180))).toEqual([true, true])
  })

  test('when its take was heard once, and no other take of that music', () => {
    for (const kind of ['cold', 'goal', 'silent', 'slow'] as const) {
      expect(done(take(kind, KEY), visit(takeKey(kind, KEY), 5))).toEqual([true])
      expect(done(take(kind, KEY), visit(takeKey(kind, KEY), 5, { played: 0 }))).toEqual([false])
      expect(done(take(kind, KEY), visit(takeKey(kind, 'section B even'), 5))).toEqual([false])
      expect(done(take(kind, KEY), visit(takeKey('entry', KEY), 5))).toEqual([false])
    }
  })

  test('when each passage of a run, and each entrance, was played from the entrance', () => {
    const [a, b] = ['section A even', 'section B even'].map(k => visit(takeKey('entry', k), 9)) as [
      Visit,
      Visit,
    ]
    const run = takes('run', 'section A even', 'section B even')
    expect([done(run, a), done(run, a, b)]).toEqual([[false], [true]])
    const entries = {
      kind: 'entries',
      piece: 'Weir',
      spots: ['A', 'B'].map(k => ({ key: `section ${k} even`, label: '', from: tempo(80), to: tempo(90) })),
      ...at,
    } as const
    expect([done(entries, a), done(entries, a, b)]).toEqual([[false], [true]])
    expect(done(takes('through', 'section A even'), a)).toEqual([false])
  })

  test('when anything of a warm-up was heard', () => {
    const warm = warmUpKey({ warmUp: 'first-minutes', item: 'One scale', key: null, tempo: tempo(60) })
    const line: Item = { kind: 'fundamentals', ...at }
    expect(done(line, visit(warm, 9))).toEqual([true])
    expect(done(line, visit(warm, 9, { played: 0 }))).toEqual([false])
    expect(done(line, visit(KEY, 999))).toEqual([false])
    expect(done({ kind: 'rest', ...at }, visit(warm, 999), visit(KEY, 999))).toEqual([false])
  })

  test('and is named after its music, or its piece', () => {
    const name = (i: Item) => named([i])[0]?.name
    expect(name(takes('run', 'section A even'))).toBe('run Weir #1')
    expect(name({ kind: 'entries', piece: 'Weir', spots: [], ...at })).toBe('entries Weir #1')
    expect(name({ kind: 'seam', key: KEY, label: '', from: null, ...at })).toBe(`seam ${KEY} #1`)
    expect(name(take('slow', KEY))).toBe(`slow ${KEY} #1`)
    expect(name(takes('through', 'section A even'))).toBe('through #1')
  })

  test('names that are taken are not given again', () => {
    const names = named(
      [section(KEY), section('section B even'), section(KEY)],
      [`section ${KEY} #2`, `section ${KEY} #1`, 'rest #4'],
    ).map(n => n.name)
    expect(names).toEqual([`section ${KEY} #3`, 'section section B even #1', `section ${KEY} #4`])
    expect(placeOf(`section ${KEY} #12`)).toEqual({
      what: `section ${KEY}`,
      kind: 'section',
      key: KEY,
      n: 12,
    })
    expect(placeOf('rest')).toEqual({ what: 'rest', kind: 'rest', key: '', n: 1 })
  })
})

describe('a new line', () => {
  const all = named(items).map(n => n.name)

  test('stands behind what it follows in the plan, the first one in front', () => {
    const order = (o: readonly string[]) => names(linesOf(items, { ...untouched, order: o }, []))
    const [first, second, third, ...rest] = all as [string, string, string]
    expect(order([third, ...rest, second])).toEqual([first, third, ...rest, second])
    expect(order([second, third, ...rest])).toEqual(all)
    expect(order([second, first, ...rest])).toEqual([second, third, first, ...rest])
    expect(order(['gone #1', ...all.toReversed()])).toEqual(all.toReversed())
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

  test('to the front as well, and to the end', () => {
    const first = moved(lines, 'section section D even #1', -1)
    expect(names(first).slice(0, 2)).toEqual(['section section D even #1', 'fundamentals #1'])
    const last = names(lines).at(-2) as string
    expect(names(moved(lines, last, 1)).at(-1)).toBe(last)
    // With one open line there is no other place for it.
    const one = lines.map((l, i): DayLine => ({ ...l, state: i === 3 ? 'open' : 'done' }))
    for (const by of [1, -1] as const) expect(moved(one, names(one)[3] as string, by)).toBe(one)
    expect(moved(one, names(one)[2] as string, 1)).toBe(one)
    expect(moved(one, 'gone #1', 1)).toBe(one)
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
