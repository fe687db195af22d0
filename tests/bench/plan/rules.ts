import { tempoRatio } from '../../../src/music/tempo.ts'
import { fundamentalMinutes } from '../../../src/plan/day.ts'
import { restMinutes } from '../../../src/plan/rests.ts'
import { atGoal, measured, newWeek, night, type Passage, rest, visit, type Week } from './week.ts'

/** How players divide their time without a plan: same ladder, same fundamentals and rests, same chances. */

export type Rule = (w: Week) => void

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)
const musicOf = (w: Week): number => {
  const left = w.minutes - fundamentalMinutes(w.minutes, null)
  return left - restMinutes(left)
}

/** A stay is about so long, and a rest comes about so often, minutes. */
const STAY = 5
const EVERY = 20

/** Minutes for each passage today, in stays of about five, the longest first, never the same twice running. */
const inStays = (w: Week, minutes: readonly number[]): void => {
  const left = minutes.map((m, i) => ({ m, passage: w.passages[i] as Passage }))
  let [last, since]: [Passage | null, number] = [null, 0]
  for (let guard = 0; guard < 300; guard++) {
    const open = left.filter(l => l.m > 0.4)
    if (open.length === 0) break
    const other = open.filter(l => l.passage !== last).sort((a, b) => b.m - a.m)[0]
    const now = other ?? (open[0] as (typeof left)[number])
    const from = w.second
    if (since > EVERY) {
      rest(w)
      since = 0
    }
    visit(w, now.passage, now.m > STAY * 1.5 ? STAY : now.m)
    const took = (w.second - from) / 60
    now.m -= took
    since += took
    last = now.passage
  }
}

const daily =
  (minutesOf: (w: Week) => readonly number[]): Rule =>
  w => {
    for (let d = 0; d < w.days; d++) {
      inStays(w, minutesOf(w))
      night(w)
    }
  }

export const equalMinutes: Rule = daily(w => w.passages.map(() => musicOf(w) / w.passages.length))

/** The first one until it is at its goal, then the next one. */
export const oneAfterAnother: Rule = w => {
  for (let d = 0; d < w.days; d++) {
    const end = musicOf(w) * 60
    let turn = 0
    while (end - w.second > 20) {
      const open = w.passages.find(p => !atGoal(p))
      visit(
        w,
        open ?? (w.passages[turn++ % w.passages.length] as Passage),
        Math.min(STAY * 3, (end - w.second) / 60),
        {
          leaveAtGoal: open !== undefined,
        },
      )
      rest(w)
    }
    night(w)
  }
}

/** ln tempo gained in a minute before anything is known, and the minutes that it weighs. */
const RATE = 0.008
const WEIGHS = 10
/** A little more than the goal is wanted. */
const MARGIN = 1.03

/** Minutes until the goal, by what each passage has gained so far. */
const needOf = (p: Passage): number => {
  const first = p.visits.find(v => v.ceiling)?.ceiling
  const gained = first && p.ceiling ? Math.max(0, Math.log(tempoRatio(p.ceiling, first))) : 0
  const rate = (gained + RATE * WEIGHS) / (p.seconds / 60 + WEIGHS)
  return Math.max(0, Math.log(MARGIN * tempoRatio(p.goal, p.ceiling ?? p.start))) / rate
}

export const byTheGap: Rule = daily(w => {
  const needs = w.passages.map(p => Math.max(0.5, needOf(p)))
  return needs.map(n => (n / sum(needs)) * musicOf(w))
})

const LEAST = 3
const MOST = 14
const MORE = 1.15

/** What asks for least comes first, as many as can be finished; with `third` every other one for three minutes each third day. */
export const cheapestFirst = (third: boolean): Rule =>
  daily(w => {
    const needs = w.passages.map(needOf)
    const minutes = needs.map(() => 0)
    let left = musicOf(w)
    const give = (i: number, m: number): void => {
      minutes[i] = (minutes[i] as number) + m
      left -= m
    }
    if (third)
      w.passages.forEach((p, i) => {
        if (!p.last || w.day - p.last.day >= 3) give(i, LEAST)
      })
    for (const i of needs.map((_, n) => n).sort((a, b) => (needs[a] as number) - (needs[b] as number))) {
      const wanted = Math.min(MOST, Math.max(LEAST, ((needs[i] as number) / (w.days - w.day)) * MORE))
      const more = wanted - (minutes[i] as number)
      if (more <= 0) continue
      if (left < LEAST - (minutes[i] as number)) break
      give(i, Math.min(more, left))
      if (left <= 0.5) break
    }
    const given = sum(minutes) || 1
    return left > 1 ? minutes.map(m => (m / given) * musicOf(w)) : minutes
  })

/** Minutes of a total that fall on a day: the same on each, where that is three at least, else on so many days fewer, the last one among them. */
const onDay = (total: number, w: Week): number => {
  const each = total / w.days
  const every = each <= 0 ? 1 : Math.max(1, Math.ceil(LEAST / each))
  return (w.days - 1 - w.day) % every === 0 ? each * every : 0
}

/** Totals are looked for in steps of so many minutes, each tried out so often, and no passage has more than so many minutes a day. */
const STEP = 12
const TRIES = 3
const DAILY = 24

/** Chance of a clean first take on the date after so many minutes in all on one passage alone. */
const alone = (w: Week, passage: number, total: number): number => {
  const tries = Array.from({ length: TRIES }, (_, luck) => {
    const one = newWeek(w.again(luck + 1).slice(passage, passage + 1), w.days, w.minutes)
    for (let d = 0; d < one.days; d++) {
      inStays(one, [onDay(total, one)])
      night(one)
    }
    return measured(one).clean
  })
  return sum(tries) / TRIES
}

/** The totals that bring the most, for one who knows beforehand what minutes do to each passage of this player. */
const bestTotals = (w: Week): readonly number[] => {
  const steps = Math.floor((musicOf(w) * w.days) / STEP)
  const most = Math.min(steps, Math.floor((DAILY * w.days) / STEP))
  let best: { readonly worth: number; readonly totals: readonly number[] }[] = Array.from(
    { length: steps + 1 },
    () => ({ worth: 0, totals: [] }),
  )
  for (const k of w.passages.keys()) {
    let high = 0
    const worth = Array.from({ length: most + 1 }, (_, j) => {
      high = Math.max(high, alone(w, k, j * STEP))
      return high
    })
    best = best.map((_, all) =>
      worth
        .slice(0, all + 1)
        .map((x, j) => {
          const before = best[all - j] as (typeof best)[number]
          return { worth: before.worth + x, totals: [...before.totals, j * STEP] }
        })
        .reduce((a, b) => (b.worth > a.worth ? b : a)),
    )
  }
  return (best[steps] as (typeof best)[number]).totals
}

/** Each passage has its share of what it will need in all. Nobody knows that: it says how much a plan can gain at most by dividing minutes. */
export const totalsKnown: Rule = w => {
  const totals = bestTotals(w)
  for (let d = 0; d < w.days; d++) {
    inStays(
      w,
      totals.map(t => onDay(t, w)),
    )
    night(w)
  }
}
