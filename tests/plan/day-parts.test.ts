import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { dayAfter } from '../../src/music/day.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import { type Asked, type Day, dayOf } from '../../src/plan/day.ts'
import type { Item } from '../../src/plan/item.ts'
import { fullGap, rateOf, type Seam, type Work } from '../../src/plan/work.ts'
import { SIX, seam, TODAY, work } from './scene.ts'

const plan = (
  works: readonly Work[],
  minutes: number,
  seams: readonly Seam[] = [],
  other: Partial<Asked> = {},
): Day => dayOf(works, seams, { date: TODAY, minutes, played: [], ...other })
const only = <K extends Item['kind']>(d: Day, kind: K) =>
  d.items.filter((i): i is Item & { kind: K } => i.kind === kind)
const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)
const minutes = (all: readonly Item[]): number => sum(all.map(i => i.minutes))
const inDays = (n: number) => ({ readyBy: dayAfter(TODAY, n) })
const NO_WARM_UP = { fundamentals: 0 }

describe('a visit says of its section', () => {
  const one = (other: Partial<Work>, asked: Partial<Asked> = {}) =>
    only(plan([work('A', 100, 120, other)], 20, [], asked), 'section').filter(i => i.key === 'A')

  test('where it begins, its ceiling and goal, and how long it would take to pass', () => {
    const [first, later] = one({ minutesToPass: 4 })
    expect(first).toMatchObject({
      label: 'section A',
      from: tempo(97),
      again: false,
      ceiling: tempo(100),
      goal: tempo(120),
      toPass: 4,
    })
    expect(later).toMatchObject({ from: null, again: true, toPass: null })
    expect(one({})[0]).toMatchObject({ toPass: null })
  })

  test('that it goes on where it stopped, when it was played today', () => {
    expect(one({ lastPlayedDaysAgo: 0, minutesToPass: 4 })[0]).toMatchObject({
      from: null,
      again: true,
      toPass: null,
    })
  })

  test('the upper end of a range, and that nobody knows the goal yet, where that is so', () => {
    expect(one({ top: tempo(126), open: true })[0]).toMatchObject({ goalTop: tempo(126), open: true })
    for (const name of ['goalTop', 'open']) expect(one({})[0]).not.toHaveProperty(name)
  })

  test('its top rung on the last two days before its date, by the days that are played on; a last rung has none', () => {
    const top = (days: number, other: Partial<Work> = {}) => one({ ...inDays(days), ...other })[0]?.top
    expect([1, 2, 3, 9].map(d => top(d))).toEqual([tempo(104), tempo(104), null, null])
    // Wednesday, and a Monday after a weekend without practice: Wednesday, Thursday and Friday are left.
    expect(top(5, { week: [1, 2, 3, 4, 5] })).toBeNull()
    expect(top(4, { week: [1, 2] })).toEqual(tempo(104))
    expect(top(1, { oneAbove: null })).toBeNull()
    expect(one({ readyBy: null })[0]?.top).toBeNull()
  })
})

describe('cold takes', () => {
  const at = (key: string, other: Partial<Work> = {}) => work(key, 120, 120, { coldDaysAgo: 1, ...other })
  const takes = (works: readonly Work[], all = 60, other: Partial<Asked> = {}) =>
    only(plan(works, all, [], { ...NO_WARM_UP, ...other }), 'cold').map(i => i.take.key)

  test('of what is not ready come first, then those that were left out longest', () => {
    const works = [
      at('ready', { ready: true, coldDaysAgo: null }),
      at('1', { coldDaysAgo: 1 }),
      at('4', { coldDaysAgo: 4 }),
      at('never', { coldDaysAgo: null }),
      at('absent', {}),
      at('2', { coldDaysAgo: 2 }),
    ]
    expect(takes(works.filter(w => w.key !== 'absent'))).toEqual(['never', '4', '2', '1', 'ready'])
  })

  test('are for what is at its goal, and was neither played nor taken today', () => {
    const works = [
      at('yes'),
      at('played', { lastPlayedDaysAgo: 0 }),
      at('taken', { coldDaysAgo: 0 }),
      work('below', 119, 120),
      work('none', null, 120),
      at('past', inDays(-1)),
      at('today', inDays(0)),
    ]
    expect(takes(works)).toEqual(['yes'])
  })

  test('are a fifth of the day at most, or one minute', () => {
    const works = Array.from({ length: 9 }, (_, i) => at(`${i}`, { secondsPerRepetition: 60 }))
    expect([30, 29, 10, 4].map(m => takes(works, m).length)).toEqual([6, 5, 2, 1])
    expect(takes([at('long', { secondsPerRepetition: 90 })], 5)).toEqual([])
    expect(takes([at('long', { secondsPerRepetition: 60 })], 4)).toEqual(['long'])
    // Of a day with a warm-up a fifth of the rest.
    expect(takes(works, 30, { fundamentals: 5 }).length).toBe(5)
  })

  test('of a section are left out where its passage has one', () => {
    const whole = { key: 'W', label: 'W', goal: tempo(120), top: null, seconds: 60 }
    expect(takes([at('1', { whole }), at('2', { whole })])).toEqual(['1', '2'])
    expect(takes([at('1', { whole }), at('W'), at('other')])).toEqual(['W', 'other'])
  })

  test('are at the end of a range whose turn it is, and take whole or half minutes', () => {
    const day = plan([at('A', { top: tempo(126), cold: tempo(126), secondsPerRepetition: 31 }), at('B')], 40)
    const takes = only(day, 'cold').map(i => [i.take.label, i.take.tempo && typed(i.take.tempo), i.minutes])
    expect(takes).toEqual([
      ['section A', '126', 1],
      ['section B', '120', 0.5],
    ])
  })
})

describe('seams', () => {
  const SEVENTHS = [102, 101, 110, 120].map((c, i) => work(`${i}`, c, 120, { priority: 1 }))
  const seams = (all: number, list: readonly Seam[], works = SEVENTHS, other: Partial<Asked> = {}) =>
    only(plan(works, all, list, { ...NO_WARM_UP, ...other }), 'seam').map(i => [i.key, i.minutes])
  const ready = (n: number, ago: number | null = null) =>
    seam('2', '3', { key: `s${n}`, lastPlayedDaysAgo: ago })

  test('are ready where both sides are at 85 % of their goals, on a ladder down from the other side', () => {
    expect(seams(40, [seam('0', '2')]).length).toBe(1)
    expect(seams(40, [seam('1', '2')])).toEqual([])
    expect(seams(40, [seam('2', '1')])).toEqual([])
    expect(seams(40, [seam('2', 'gone')])).toEqual([])
    expect(seams(40, [seam('2', 'new')], [...SEVENTHS, work('new', null, 120)])).toEqual([])
    const down = (ceiling: number) => [work('a', ceiling, 60, { down: true }), work('b', 120, 120)]
    expect(seams(40, [seam('a', 'b')], down(70)).length).toBe(1)
    expect(seams(40, [seam('a', 'b')], down(71))).toEqual([])
  })

  test('an eighth of the music, three minutes at least; one for each three minutes, longest away first, eight at most', () => {
    const all = [ready(1, 1), ready(2, 5), ready(3), ready(4, 2)]
    // 20 minutes with a rest of 3.5: 16.5 of music.
    expect(seams(20, all)).toEqual([['s3', 3]])
    // 65 minutes with rests of 10: 55 of music, 7 of them for seams.
    expect(seams(65, all)).toEqual([
      ['s3', 3.5],
      ['s2', 3.5],
    ])
    expect(sum(seams(120, all).map(([, m]) => m as number))).toBe(12)
    expect(seams(120, all).map(([key]) => key)).toEqual(['s3', 's2', 's4', 's1'])
    expect(seams(120, [ready(1)])).toEqual([['s1', 8]])
  })

  test('on a day of less than twenty minutes nothing is joined, and nothing that was left out or done', () => {
    expect([19, 20].map(m => seams(m, [ready(1)]).length)).toEqual([0, 1])
    expect(seams(40, [])).toEqual([])
    const without: Asked['without'] = t => t.kind === 'seam' && t.key === 's3'
    expect(seams(20, [ready(1, 1), ready(2, 5), ready(3)], SEVENTHS, { without })).toEqual([['s2', 3]])
  })

  test('begin where their own ladder stands', () => {
    const day = plan(SEVENTHS, 40, [seam('2', '3', { label: 'over the bar', next: tempo(88) })])
    expect(only(day, 'seam')[0]).toMatchObject({ label: 'over the bar', from: tempo(88) })
  })
})

describe('one passage alone', () => {
  const alone = (other: Partial<Work> = {}, asked: Partial<Asked> = {}) =>
    plan([work('A', 84, 120, other)], 40, [], { ...NO_WARM_UP, ...asked })
  const between = (d: Day) =>
    d.items.flatMap(i =>
      i.kind === 'goal' || i.kind === 'silent'
        ? [[i.kind, i.take.tempo && typed(i.take.tempo), i.kind === 'silent' ? i.times : 1, i.minutes]]
        : [],
    )

  test('between its visits once at the goal, then three times without a sound at its ceiling, in turn', () => {
    expect(between(alone()).slice(0, 4)).toEqual([
      ['goal', '120', 1, 0.5],
      ['silent', '84', 3, 1],
      ['goal', '120', 1, 0.5],
      ['silent', '84', 3, 1],
    ])
    const fresh = { ceiling: null, next: tempo(72) }
    expect(between(alone(fresh))[1]).toEqual(['silent', '72', 3, 1])
  })

  test('the visit that follows gives the minutes for it, half of its own at most', () => {
    const day = alone()
    const own = day.items.filter(i => i.kind !== 'rest' && i.kind !== 'through')
    expect(minutes(own)).toBe(40 - 5 - minutes(only(day, 'through')))
    // Three repetitions of 50 seconds are 2.5 of 4 to 5 minutes, of a minute each 3 of 6: more than half is too much.
    const times = (secondsPerRepetition: number) =>
      between(alone({ secondsPerRepetition })).map(([kind]) => kind)
    expect(times(40)).toContain('silent')
    expect(times(100)).not.toContain('silent')
    expect(times(100)).toContain('goal')
  })

  test('what was skipped or done today is left out, and the visit keeps its minutes', () => {
    const day = alone({}, { without: t => t.kind === 'goal' || t.kind === 'silent' })
    expect(between(day)).toEqual([])
    expect(between(alone({}, { without: t => t.kind === 'silent' })).every(([kind]) => kind === 'goal')).toBe(
      true,
    )
    expect(minutes(day.items)).toBe(40)
  })

  test('not between two different passages', () => {
    const day = plan([work('A', 84, 120), work('B', 84, 120)], 30, [], NO_WARM_UP)
    expect(between(day)).toEqual([])
  })
})

describe('last time through', () => {
  test('an eighth of the minutes for climbing at most, each once, of what was practiced', () => {
    for (const all of [20, 31, 40, 60, 77]) {
      const day = plan(SIX, all, [], NO_WARM_UP)
      const climbing = minutes(
        day.items.filter(i => ['section', 'goal', 'silent', 'through'].includes(i.kind)),
      )
      const [last] = only(day, 'through')
      expect(last?.minutes ?? 0, `${all}`).toBeLessThanOrEqual(climbing / 8)
      const practiced = new Set(only(day, 'section').map(i => i.key))
      const taken = last?.takes.map(t => t.key) ?? []
      expect(new Set(taken).size, `${all}`).toBe(taken.length)
      for (const key of taken) expect(practiced).toContain(key)
    }
  })

  test('what does not fit is left out, and what has no ceiling yet', () => {
    const long = SIX.map(w => ({ ...w, secondsPerRepetition: 70 }))
    expect(only(plan(long, 40, [], NO_WARM_UP), 'through')[0]?.takes.length).toBe(3)
    expect(only(plan([work('A', null, 120)], 40, [], NO_WARM_UP), 'through')).toEqual([])
    const without: Asked['without'] = t => t.kind === 'through'
    const day = plan(SIX, 40, [], { ...NO_WARM_UP, without })
    expect([only(day, 'through'), minutes(day.items)]).toEqual([[], 40])
  })
})

describe('whether it is enough is counted from the minutes that the day has for it', () => {
  const known = { minutesSoFar: 20, lnGainSoFar: 0.1 }
  const anyDay = fc.record({
    ceilings: fc.array(fc.integer({ min: 60, max: 118 }), { minLength: 2, maxLength: 6 }),
    minutes: fc.integer({ min: 20, max: 120 }),
    days: fc.integer({ min: 3, max: 9 }),
    fundamentals: fc.option(fc.integer({ min: 0, max: 15 })),
    atGoal: fc.boolean(),
  })

  test('minutes needed a day over minutes of climbing, and where it is too much, the shortest day that has enough', () => {
    let [over, more] = [0, 0]
    fc.assert(
      fc.property(anyDay, o => {
        const works = [
          ...o.ceilings.map((c, i) => work(`${i}`, c, 120, { ...known, ...inDays(o.days) })),
          ...(o.atGoal ? [work('done', 120, 120, { ...known, coldDaysAgo: 1 })] : []),
        ]
        const climbing = (minutes: number): number => {
          const day = plan(works, minutes, [], { fundamentals: o.fundamentals })
          const not = ['fundamentals', 'rest', 'cold']
          return sum(day.items.filter(i => !not.includes(i.kind)).map(i => i.minutes))
        }
        const needed = sum(works.map(w => fullGap(w) / rateOf(w) / o.days))
        const load = plan(works, o.minutes, [], { fundamentals: o.fundamentals }).load
        expect(load?.load).toBeCloseTo(needed / climbing(o.minutes), 9)
        const longer = load?.offers?.minutes
        if (load?.offers) over++
        if (longer == null) return
        more++
        // Cold takes of a longer day may be more of them; here there is one at most.
        expect(climbing(longer)).toBeGreaterThanOrEqual(needed)
        expect(climbing(longer - 1)).toBeLessThan(needed)
      }),
      { numRuns: 60 },
    )
    expect([over > 0, more > 0]).toEqual([true, true])
  })
})

test('the jump counts what was played before in the day', () => {
  const played = Array.from({ length: 7 }, (_, i) => ({ day: dayAfter(TODAY, i - 7), minutes: 20 }))
  const [now, later] = [0, 30].map(over => plan(SIX, 60, [], { played, over }).jump)
  expect([now?.usual, (later?.planned ?? 0) - (now?.planned ?? 0)]).toEqual([20, 30])
})

describe('a light last evening', () => {
  const works = [work('1', 112, 120, inDays(1)), work('2', 96, 120, inDays(2))]
  const climbed = (light: boolean) =>
    [...new Set(only(plan(works, 40, [], { light }), 'section').map(i => i.key))].sort()

  test('climbs nothing of that piece, and what has a later date as ever', () => {
    expect([climbed(false), climbed(true)]).toEqual([['1', '2'], ['2']])
    expect(plan(works, 40, [], { light: true }).later).toEqual([])
  })
})
