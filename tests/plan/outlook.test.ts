import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { LoggedDay } from '../../src/ladder/log.ts'
import { dayAfter } from '../../src/music/day.ts'
import { weekday } from '../../src/music/day-words.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import { chancesAhead } from '../../src/plan/forecast.ts'
import { byOneRule, outlookOf } from '../../src/plan/outlook.ts'
import { leftOutText } from '../../src/screens/progress/words.ts'
import { TODAY } from './scene.ts'

/** One day after another up to yesterday, unless days before today are given. */
const look = (
  bests: readonly (number | null)[],
  o: { goal?: number; ago?: readonly number[]; readyBy?: string | null; rungs?: number } = {},
) => {
  const ago = o.ago ?? bests.map((_, i) => bests.length - i)
  const reached = bests.filter(b => b !== null)
  return outlookOf({
    days: bests.map((b, i) => ({
      day: dayAfter(TODAY, -(ago[i] as number)),
      best: b === null ? null : tempo(b),
    })),
    goal: tempo(o.goal ?? 104),
    ceiling: reached.length > 0 ? tempo(Math.max(...reached)) : null,
    rungs: o.rungs ?? null,
    today: TODAY,
    readyBy: o.readyBy === undefined ? null : o.readyBy,
  })
}

describe('no, one or two days', () => {
  test('the pace that is needed, and no date', () => {
    const seen = look([84, 88], { goal: 105, readyBy: dayAfter(TODAY, 5), rungs: 5 })
    expect(seen).toMatchObject({ kind: 'pace', days: 5, rungs: 5, rungsPerDay: 1 })
    expect(seen.kind === 'pace' && seen.gap).toBeCloseTo(105 / 88 - 1, 9)
    // 3.6 % a day for five days.
    expect(seen.kind === 'pace' && seen.perDay).toBeCloseTo(0.036, 3)
  })

  test('today counts as a day to come unless it was used', () => {
    expect(look([84], { ago: [0], readyBy: dayAfter(TODAY, 5), rungs: 8 })).toMatchObject({
      days: 4,
      rungsPerDay: 2,
    })
  })

  test('what comes every second day has half of the days to come', () => {
    expect(look([84, 88], { ago: [3, 1], goal: 105, readyBy: dayAfter(TODAY, 10), rungs: 5 })).toMatchObject({
      days: 5,
      rungsPerDay: 1,
    })
  })

  test('without a date, or without a ceiling, what is missing stays open', () => {
    expect(look([84])).toMatchObject({ kind: 'pace', days: null, perDay: null, rungsPerDay: null })
    expect(look([null])).toMatchObject({ kind: 'pace', gap: null, perDay: null })
    expect(look([84], { readyBy: dayAfter(TODAY, -2) })).toMatchObject({ days: null })
  })
})

describe('three or four days', () => {
  test('an early look: a range around what this pace says (the line: 4.4 more days)', () => {
    const seen = look([72, 76, 80, 83])
    if (seen.kind !== 'early') throw new Error(seen.kind)
    expect(seen.low).toBeLessThanOrEqual(4)
    expect(seen.high).toBeGreaterThanOrEqual(5)
    expect(seen.middle).toEqual([4, 6])
  })

  test('says nothing about the date yet', () => {
    expect(look([72, 76, 80, 83], { readyBy: dayAfter(TODAY, 1) })).not.toHaveProperty('against')
  })
})

describe('from five days on', () => {
  const climb = [72, 76, 80, 84, 88, 92]

  test('what comes every second day has half the days until its date, and loses a little between them', () => {
    const second = (days: number) =>
      look([72, 78, 84, 89, 94], { ago: [9, 7, 5, 3, 1], goal: 104, readyBy: dayAfter(TODAY, days) })
    const daily = (days: number) => look([72, 78, 84, 89, 94], { goal: 104, readyBy: dayAfter(TODAY, days) })
    for (const days of [2, 3, 5, 8, 12, 30]) {
      const [a, b] = [second(2 * days), daily(days)]
      if (a.kind !== 'range' || b.kind !== 'range') throw new Error(a.kind)
      expect(a.low).toBeGreaterThanOrEqual(b.low)
      expect(a.high ?? 99).toBeGreaterThan(b.high ?? 0)
      if (a.against === 'ready early') expect(b.against).toBe('ready early')
      if (b.against === 'not by then') expect(a.against).toBe('not by then')
    }
  })

  test('against the date: unlikely, open in the middle, likely, in this order; between them nothing is said', () => {
    const order = ['not by then', null, 'on the day', 'ready early']
    const said = Array.from({ length: 20 }, (_, i) => {
      const seen = look(climb, { readyBy: dayAfter(TODAY, i + 1) })
      return seen.kind === 'range' ? seen.against : null
    })
    expect(new Set(said)).toEqual(new Set(order))
    const ranks = said.filter(s => s !== null).map(s => order.indexOf(s))
    expect(ranks).toEqual([...ranks].sort())
  })

  test('the days off of the week are no days for it: weekends bring a date no nearer', () => {
    const monday = dayAfter(TODAY, 5)
    expect(weekday(monday)).toBe('Monday')
    const seen = (week?: readonly number[]) =>
      outlookOf({
        days: [84, 88].map((b, i) => ({ day: dayAfter(TODAY, i - 2), best: tempo(b) })),
        goal: tempo(105),
        ceiling: tempo(88),
        rungs: 5,
        today: TODAY,
        readyBy: monday,
        week,
      })
    expect(seen()).toMatchObject({ kind: 'pace', days: 5 })
    expect(seen([1, 2, 3, 4, 5])).toMatchObject({ kind: 'pace', days: 3 })
  })

  test('without a date the range alone', () => {
    expect(look(climb)).toMatchObject({ kind: 'range', against: null })
  })

  test('a far end that nobody can name stays open', () => {
    expect(look([60, 61, 62, 63, 64, 65], { goal: 120 })).toMatchObject({
      kind: 'range',
      high: null,
      middle: null,
    })
  })

  test('where that would only say "at least a few days", nothing is said of when', () => {
    const seen = (days: number) =>
      look([72, 76, 80, 83, 86], { ago: [9, 7, 5, 3, 1], readyBy: dayAfter(TODAY, days) })
    expect(seen(24)).toEqual({ kind: 'open', against: null })
    expect(seen(6)).toEqual({ kind: 'open', against: 'not by then' })
  })

  test('never one number alone: the middle lies within the range', () => {
    for (const goal of [94, 96, 100, 110, 126]) {
      const seen = look(climb, { goal })
      if (seen.kind !== 'range') throw new Error(seen.kind)
      expect(seen.high === null || seen.high > seen.low).toBe(true)
      for (const m of seen.middle ?? []) {
        expect(m).toBeGreaterThanOrEqual(seen.low)
        expect(m).toBeLessThanOrEqual(seen.high ?? 28)
      }
    }
  })
})

/** The page says: how likely the goal is reached within so many turns decides what is said. */
test('law: a range from .16 to .84, its end named up to 28 turns; of the date only what is likely, unlikely or open', () => {
  const said = new Map<string, number>()
  const anyClimb = fc.record({
    from: fc.integer({ min: 60, max: 90 }),
    gains: fc.array(fc.integer({ min: -2, max: 6 }), { minLength: 3, maxLength: 7 }),
    goal: fc.integer({ min: 100, max: 130 }),
    every: fc.constantFrom(1, 1, 2),
    days: fc.integer({ min: 1, max: 30 }),
  })
  fc.assert(
    fc.property(anyClimb, o => {
      const bests = [o.from]
      for (const g of o.gains) bests.push((bests.at(-1) as number) + g)
      if (Math.max(...bests) >= o.goal) return
      const ago = bests.map((_, i) => 1 + o.every * (bests.length - 1 - i))
      const seen = look(bests, { ago, goal: o.goal, readyBy: dayAfter(TODAY, o.days) })
      said.set(seen.kind, (said.get(seen.kind) ?? 0) + 1)
      if (seen.kind === 'level') {
        const slopes = bests.slice(-3).map(b => Math.log(b)) as [number, number, number]
        const [x, y, z] = slopes
        const slope = [y - x, z - y, (z - x) / 2].sort((p, q) => p - q)[1] as number
        if (slope > 0.002) expect(chances(bests, o).every(c => c < 0.16)).toBe(true)
        return
      }
      const all = chances(bests, o)
      const within = (chance: number): number => all.findIndex(c => c >= chance) + 1
      const high = within(0.84)
      const end = high > 0 && high <= 28 ? high : null
      if (seen.kind === 'open') expect([within(0.16) <= 5, end]).toEqual([true, null])
      else expect(seen).toMatchObject({ low: within(0.16), high: end })
      if (seen.kind !== 'open' && end === null) expect(within(0.16)).toBeGreaterThan(5)
      if (bests.length < 5) {
        if (seen.kind === 'open') expect(seen.against).toBeNull()
        return
      }
      // The next turn comes so many days after the last one, which was yesterday.
      const turns = Math.floor((o.days - (o.every - 1) - 1) / o.every) + 1
      if (turns < 1) {
        expect(seen).toMatchObject({ against: null })
        return
      }
      const at = (forgotten: 'usual' | 'none' | 'much') => chances(bests, o, forgotten)[turns - 1] as number
      const middle = (['usual', 'none', 'much'] as const).every(f => at(f) >= 0.3 && at(f) <= 0.7)
      const word =
        at('usual') >= 0.85
          ? 'ready early'
          : at('usual') <= 0.15
            ? 'not by then'
            : middle
              ? 'on the day'
              : null
      expect(seen).toMatchObject({ against: word })
      said.set(`${word}`, (said.get(`${word}`) ?? 0) + 1)
    }),
    { numRuns: 70 },
  )
  for (const kind of ['level', 'early', 'range', 'ready early', 'not by then'])
    expect(said.get(kind) ?? 0, kind).toBeGreaterThan(0)
})

const chances = (
  bests: readonly number[],
  o: { readonly goal: number; readonly every: number },
  forgotten?: 'usual' | 'none' | 'much',
): readonly number[] =>
  chancesAhead(
    bests.map(b => Math.log(b / o.goal)),
    Array.from({ length: bests.length - 1 + 40 }, () => o.every - 1),
    forgotten,
  )

describe('no gain, a pause, the goal', () => {
  test('level for three days: a suggestion, no date', () => {
    expect(look([72, 76, 80, 80, 80])).toEqual({ kind: 'level', days: 3 })
    expect(look([72, 80, 80, 76, 72])).toEqual({ kind: 'level', days: 3 })
    expect(look([72, 76, 80, 84])).not.toMatchObject({ kind: 'level' })
  })

  test('more than three days without practice begin anew', () => {
    const ago = [10, 9, 8, 7, 2, 1]
    expect(look([72, 76, 80, 84, 80, 88], { ago })).toMatchObject({ kind: 'pace' })
    expect(look([72, 76, 80, 84, 80, 88], { ago: [8, 7, 6, 5, 2, 1] })).toMatchObject({ kind: 'range' })
  })

  test('so does a pause that is still going on', () => {
    expect(look([72, 76, 80, 84], { ago: [7, 6, 5, 4] })).toMatchObject({ kind: 'pace' })
    expect(look([72, 76, 80, 84], { ago: [6, 5, 4, 3] })).toMatchObject({ kind: 'early' })
  })

  test('a reached goal needs no outlook', () => {
    expect(look([96, 100, 104])).toEqual({ kind: 'reached' })
  })
})

describe('tempos of one rule', () => {
  const day = (ago: number, ...reached: readonly (readonly [rule: string, bpm: number])[]): LoggedDay => {
    const best = reached.length > 0 ? tempo(Math.max(...reached.map(([, bpm]) => bpm))) : null
    return {
      day: dayAfter(TODAY, -ago),
      minutes: 5,
      clean: 6,
      verdicts: 8,
      best,
      ceiling: best,
      reached: reached.map(([rule, bpm]) => ({ rule, best: tempo(bpm) })),
    }
  }
  const three = '3-in-a-row'
  const two = '2-in-a-row'
  const bests = (log: readonly LoggedDay[]) => byOneRule(log, TODAY).days.map(d => d.best && typed(d.best))

  test('a day on which two in a row were enough makes no line with those of three', () => {
    const log = [day(4, [three, 80]), day(3, [two, 96]), day(2, [three, 84]), day(1, [three, 88])]
    expect(bests(log)).toEqual(['80', null, '84', '88'])
    expect(byOneRule(log, TODAY)).toMatchObject({ leftOut: 1, rules: [two] })
  })

  test('the rule of the latest rung counts; a day with both gives what was reached by it', () => {
    const log = [day(3, [three, 80]), day(2, [three, 84], [two, 96]), day(1, [two, 100])]
    expect(bests(log)).toEqual([null, '96', '100'])
    expect(byOneRule(log, TODAY)).toMatchObject({ leftOut: 1, rules: [three] })
  })

  test('days without a rung, and those before a long pause, are not spoken of', () => {
    const log = [day(9, [two, 80]), day(3), day(2, [three, 84]), day(1)]
    expect(byOneRule(log, TODAY)).toMatchObject({ leftOut: 0, rules: [] })
    expect(bests(log)).toEqual([null, null, '84', null])
    expect(byOneRule([], TODAY)).toEqual({ days: [], leftOut: 0, rules: [] })
  })

  test('it is said in a sentence', () => {
    expect(leftOutText({ leftOut: 2, rules: [two, '4-of-5'] })).toBe(
      '2 days are left out: their rungs were done by another rule (two in a row; four of the last five).',
    )
    expect(leftOutText({ leftOut: 1, rules: [two] })).toMatch(/^1 day is left out: its rungs/)
    expect(leftOutText({ leftOut: 0, rules: [] })).toBe('')
  })
})
