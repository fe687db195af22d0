import { dayAfter } from '../../src/music/day.ts'
import { type Against, type DayBest, outlookOf } from '../../src/plan/outlook.ts'
import { atGoal, chances, goalTempo, KINDS, type Kind, learner } from './learner.ts'
import { TODAY } from './scene.ts'

/** What is said to invented learners while they climb, held against what comes of it. */

/** A section has 4 to 12 minutes on a day that it is in turn. */
const MINUTES = [4, 12] as const
/** Days of practice that are watched, and after how many something is said. */
const LONGEST = 40
export const AFTER = [3, 4, 5, 7] as const
/** The date is so many turns ahead: drawn for each look. */
const AHEAD = [1, 14] as const

/** How often it is practiced, in days, and the range of what a day without it takes of all that was learned. */
export type Habit = { readonly every: number; readonly forgets: readonly [number, number] }
export const DAILY: Habit = { every: 1, forgets: [0, 0] }
export const FORGETFUL: Habit = { every: 2, forgets: [0.06, 0.2] }

export type Look = {
  readonly kind: Kind
  readonly n: number
  /** Days of practice that it still took; Infinity = more than were watched. */
  readonly took: number
  readonly low: number
  readonly middle: number | null
  readonly high: number | null
  readonly against: Against | null
  /** Days of practice until a date, of which `against` speaks. */
  readonly left: number
}

/** One learner until the goal: what was said after some days, how often nothing but "level", whether it was reached. */
export const watched = (
  seed: number,
  { every, forgets }: Habit = DAILY,
): { readonly looks: readonly Look[]; readonly level: number; readonly reached: boolean } => {
  const kind = KINDS[seed % KINDS.length] as Kind
  const chance = chances(-1 - seed)
  const who = learner(kind, seed, forgets[0] + (forgets[1] - forgets[0]) * chance())
  const days: DayBest[] = []
  let done = Number.POSITIVE_INFINITY
  while (days.length < LONGEST && done > days.length) {
    const best = who.day(MINUTES[0] + (MINUTES[1] - MINUTES[0]) * chance())
    days.push({ day: dayAfter(TODAY, days.length * every), best })
    for (let d = 1; d < every; d++) who.off()
    if (atGoal(best)) done = days.length
  }
  const said = AFTER.filter(n => n < done).map(n => {
    const today = dayAfter(TODAY, (n - 1) * every)
    const left = AHEAD[0] + Math.floor((AHEAD[1] - AHEAD[0] + 1) * chance())
    const readyBy = dayAfter(today, left * every + 1)
    const asked = { goal: goalTempo, ceiling: null, rungs: null, readyBy }
    return { n, left, seen: outlookOf({ ...asked, days: days.slice(0, n), today }) }
  })
  return {
    looks: said.flatMap(({ n, left, seen }) =>
      seen.kind === 'early' || seen.kind === 'range'
        ? [
            {
              kind,
              n,
              left,
              took: done - n,
              low: seen.low,
              middle: seen.middle?.[1] ?? null,
              high: seen.high,
              against: seen.kind === 'range' ? seen.against : null,
            },
          ]
        : [],
    ),
    level: said.filter(({ seen }) => seen.kind === 'level').length,
    reached: done <= LONGEST,
  }
}

const share = (some: readonly Look[], f: (l: Look) => boolean): number => some.filter(f).length / some.length
const holds = (l: Look): boolean => l.took >= l.low && l.took <= (l.high ?? Number.POSITIVE_INFINITY)

/** How often what was said came true. */
export const counts = (looks: readonly Look[]) => {
  const named = looks.filter(l => l.high !== null)
  const of = (a: Against): { readonly said: number; readonly true: number } => {
    const some = looks.filter(l => l.against === a)
    return {
      said: some.length,
      true: share(some, l => (a === 'not by then' ? l.took > l.left : l.took <= l.left)),
    }
  }
  return {
    looks: looks.length,
    holds: share(looks, holds),
    open: share(looks, l => l.high === null),
    named: share(named, holds),
    sooner: share(looks, l => l.took < l.low),
    single: share(looks, l => l.took === l.middle),
    early: of('ready early'),
    perhaps: of('on the day'),
    not: of('not by then'),
    spoken: share(
      looks.filter(l => l.n >= 5),
      l => l.against !== null,
    ),
  }
}
