import { dayAfter } from '../../src/music/day.ts'
import type { Week } from '../../src/music/day-words.ts'
import { type Against, type DayBest, outlookOf } from '../../src/plan/outlook.ts'
import { atGoal, chances, goalTempo, KINDS, type Kind, learner } from './learner.ts'

/** What is said to invented learners while they climb, held against what comes of it. */

/** The first day. */
const MONDAY = '2031-03-10'
/** A section has 4 to 12 minutes on a day that it is in turn. */
const MINUTES = [4, 12] as const
/** Days of practice that are watched, and after how many something is said. */
const LONGEST = 40
export const AFTER = [3, 4, 5, 7] as const
/** The date is so many turns ahead: drawn for each look. */
const AHEAD = [1, 14] as const

/** Days off after each turn, in their order and round, and the range of what a day off takes of all that was learned. */
export type Habit = {
  readonly off: readonly number[]
  readonly week?: Week
  readonly forgets: readonly [number, number]
}
export const DAILY: Habit = { off: [0], forgets: [0, 0] }
export const SECOND: Habit = { off: [1], forgets: [0, 0] }
export const FORGETFUL: Habit = { off: [1], forgets: [0.06, 0.2] }
/** From Monday to Friday; weekends take what they take. */
export const WEEKDAYS: Habit = { off: [0, 0, 0, 0, 2], week: [1, 2, 3, 4, 5], forgets: [0.06, 0.2] }

export type Look = {
  readonly kind: Kind
  readonly n: number
  /** Days of practice that it still took; Infinity = more than were watched. */
  readonly took: number
  /** Null = nothing was said of when. */
  readonly low: number | null
  readonly middle: number | null
  readonly high: number | null
  readonly against: Against | null
  /** Days of practice until a date, of which `against` speaks. */
  readonly left: number
}

/** One learner until the goal: what was said after some days, how often nothing but "level", whether it was reached. */
export const watched = (
  seed: number,
  { off, week, forgets }: Habit = DAILY,
): { readonly looks: readonly Look[]; readonly level: number; readonly reached: boolean } => {
  const kind = KINDS[seed % KINDS.length] as Kind
  const chance = chances(-1 - seed)
  const who = learner(kind, seed, forgets[0] + (forgets[1] - forgets[0]) * chance())
  const days: DayBest[] = []
  let done = Number.POSITIVE_INFINITY
  let today = MONDAY
  const offAfter = (turn: number): number => off[turn % off.length] as number
  while (days.length < LONGEST && done > days.length) {
    const best = who.day(MINUTES[0] + (MINUTES[1] - MINUTES[0]) * chance())
    const free = offAfter(days.length)
    days.push({ day: today, best })
    today = dayAfter(today, 1 + free)
    for (let d = 0; d < free; d++) who.off()
    if (atGoal(best)) done = days.length
  }
  const said = AFTER.filter(n => n < done).map(n => {
    const today = (days[n - 1] as DayBest).day
    const left = AHEAD[0] + Math.floor((AHEAD[1] - AHEAD[0] + 1) * chance())
    const ahead = Array.from({ length: left }, (_, i) => 1 + offAfter(n - 1 + i)).reduce((a, b) => a + b, 0)
    const readyBy = dayAfter(today, ahead + 1)
    const asked = { goal: goalTempo, ceiling: null, rungs: null, readyBy, week }
    return { n, left, seen: outlookOf({ ...asked, days: days.slice(0, n), today }) }
  })
  return {
    looks: said.flatMap(({ n, left, seen }) =>
      seen.kind === 'early' || seen.kind === 'range' || seen.kind === 'open'
        ? [
            {
              kind,
              n,
              left,
              took: done - n,
              low: seen.kind === 'open' ? null : seen.low,
              middle: seen.kind === 'open' ? null : (seen.middle?.[1] ?? null),
              high: seen.kind === 'open' ? null : seen.high,
              against: seen.kind === 'early' ? null : seen.against,
            },
          ]
        : [],
    ),
    level: said.filter(({ seen }) => seen.kind === 'level').length,
    reached: done <= LONGEST,
  }
}

const share = (some: readonly Look[], f: (l: Look) => boolean): number => some.filter(f).length / some.length
const holds = (l: Look): boolean => l.took >= (l.low ?? 0) && l.took <= (l.high ?? Number.POSITIVE_INFINITY)

/** How often what was said came true. */
export const counts = (looks: readonly Look[]) => {
  const stated = looks.filter(l => l.low !== null)
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
    stated: stated.length / looks.length,
    holds: share(stated, holds),
    open: share(stated, l => l.high === null),
    named: share(named, holds),
    sooner: share(stated, l => l.took < (l.low ?? 0)),
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
