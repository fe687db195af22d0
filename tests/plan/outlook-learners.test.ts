import { beforeAll, describe, expect, test } from 'vitest'
import { dayAfter } from '../../src/music/day.ts'
import { type DayBest, outlookOf } from '../../src/plan/outlook.ts'
import { atGoal, chances, goalTempo, KINDS, type Kind, learner } from './learner.ts'
import { TODAY } from './scene.ts'

/** A section has 4 to 12 minutes on a day that it is in turn. */
const MINUTES = [4, 12] as const
const LEARNERS = 200
const LONGEST = 40
const AFTER = [3, 4, 5, 7] as const
/** Apart from the learners on whom the numbers of the gap law were tried. */
const FRESH = 770_000

type Look = {
  readonly kind: Kind
  readonly n: number
  /** Days that it still took; Infinity = more than were watched. */
  readonly took: number
  readonly low: number
  readonly middle: number | null
  readonly high: number | null
}

/** One learner until the goal: what was said after some days, how often nothing but "level", whether it was reached. */
const watched = (i: number): { looks: readonly Look[]; level: number; reached: boolean } => {
  const kind = KINDS[i % KINDS.length] as Kind
  const who = learner(kind, FRESH + i)
  const chance = chances(FRESH - 1 - i)
  const days: DayBest[] = []
  let done = Number.POSITIVE_INFINITY
  while (days.length < LONGEST && done > days.length) {
    const best = who.day(MINUTES[0] + (MINUTES[1] - MINUTES[0]) * chance())
    days.push({ day: dayAfter(TODAY, days.length), best })
    if (atGoal(best)) done = days.length
  }
  const said = AFTER.filter(n => n < done).map(n => {
    const asked = { goal: goalTempo, ceiling: null, rungs: null, readyBy: null }
    return { n, seen: outlookOf({ ...asked, days: days.slice(0, n), today: dayAfter(TODAY, n - 1) }) }
  })
  return {
    looks: said.flatMap(({ n, seen }) =>
      seen.k === 'early' || seen.k === 'range'
        ? [{ kind, n, took: done - n, low: seen.low, middle: seen.middle?.[1] ?? null, high: seen.high }]
        : [],
    ),
    level: said.filter(({ seen }) => seen.k === 'level').length,
    reached: done <= LONGEST,
  }
}

const holds = (l: Look): boolean => l.took >= l.low && l.took <= (l.high ?? Number.POSITIVE_INFINITY)
const share = (some: readonly Look[], f: (l: Look) => boolean): number => some.filter(f).length / some.length

describe('invented learners whom nobody has seen before, through the ladder as it is', () => {
  let all: readonly ReturnType<typeof watched>[] = []
  let looks: readonly Look[] = []
  beforeAll(() => {
    all = Array.from({ length: LEARNERS }, (_, i) => watched(i))
    looks = all.flatMap(l => l.looks)
  })

  test('most of them reach the goal in forty days, and enough is said on the way', () => {
    expect(all.filter(l => l.reached).length / LEARNERS).toBeGreaterThan(0.9)
    expect(looks.length).toBeGreaterThan(200)
    for (const kind of KINDS) expect(looks.filter(l => l.kind === kind).length).toBeGreaterThan(40)
  })

  test('the range that should hold four times in five holds 70 to 90 times in a hundred', () => {
    expect(share(looks, holds)).toBeGreaterThan(0.7)
    expect(share(looks, holds)).toBeLessThan(0.9)
  })

  test('for every kind of learner, and after few days as after more, at least three times in four', () => {
    for (const kind of KINDS)
      expect(
        share(
          looks.filter(l => l.kind === kind),
          holds,
        ),
      ).toBeGreaterThan(0.75)
    for (const n of AFTER)
      expect(
        share(
          looks.filter(l => l.n === n),
          holds,
        ),
      ).toBeGreaterThan(0.75)
  })

  test('where both ends are named it holds as well', () => {
    const named = looks.filter(l => l.high !== null)
    expect(named.length).toBeGreaterThan(75)
    expect(share(named, holds)).toBeGreaterThan(0.7)
    expect(share(named, holds)).toBeLessThan(0.9)
  })

  test('a single day would be right less than one time in three', () => {
    expect(share(looks, l => l.took === l.middle)).toBeLessThan(1 / 3)
  })
})
