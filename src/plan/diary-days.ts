import { compareHard, type Direction, harder } from '../ladder/direction.ts'
import type { Visit } from '../ladder/history.ts'
import { directionOfKey } from '../ladder/key.ts'
import { dayAfter, daysBetween, localDay, mondayOf } from '../music/day.ts'
import type { Tempo } from '../music/tempo.ts'

/** What was counted, of a day or of one key on it. */
export type Sums = {
  readonly visits: number
  readonly seconds: number
  readonly repetitions: number
  readonly verdicts: number
  readonly clean: number
}

/** One section in one rhythm on one day. */
export type DiaryEntry = Sums & {
  readonly key: string
  /** The ceiling, where it rose on this day, and what it was before. */
  readonly ceiling: Tempo | null
  readonly before: Tempo | null
  readonly goal: boolean
}

/** A day on which something was played; entries in the order in which they were begun. */
export type Day = Sums & { readonly date: string; readonly entries: readonly DiaryEntry[] }

/** Monday to Sunday, as in ISO 8601. */
export type Week = {
  readonly from: string
  readonly to: string
  /** Days of it that have come, and lie in what was asked for. */
  readonly length: number
  readonly seconds: number
  readonly days: readonly Day[]
}

const total = (all: readonly Sums[]): Sums => ({
  visits: all.reduce((n, s) => n + s.visits, 0),
  seconds: all.reduce((n, s) => n + s.seconds, 0),
  repetitions: all.reduce((n, s) => n + s.repetitions, 0),
  verdicts: all.reduce((n, s) => n + s.verdicts, 0),
  clean: all.reduce((n, s) => n + s.clean, 0),
})

const sumsOf = (v: Visit): Sums => ({
  visits: 1,
  seconds: v.seconds,
  repetitions: v.played,
  verdicts: v.verdicts,
  clean: v.clean,
})

const grouped = <T>(all: readonly T[], by: (one: T) => string): ReadonlyMap<string, readonly T[]> => {
  const out = new Map<string, T[]>()
  for (const one of all) {
    const known = out.get(by(one))
    if (known) known.push(one)
    else out.set(by(one), [one])
  }
  return out
}

const hardest = (tempos: readonly (Tempo | null)[], d: Direction): Tempo | null =>
  tempos.filter(t => t !== null).reduce<Tempo | null>((a, b) => (a ? harder(a, b, d) : b), null)

/** Beyond these years a date comes from damage, and no calendar is made for it. */
const inCalendar = (date: string): boolean => date >= '1900-01-01' && date <= '8999-12-31'

/** All days of practice, each with what it added; a visit in which nothing was played leaves no trace. */
export const daysOf = (visits: readonly Visit[]): readonly Day[] => {
  const ceilings = new Map<string, Tempo>()
  const byDay = grouped(
    visits.filter(v => v.played > 0),
    v => localDay(v.time, v.offset),
  )
  return [...byDay]
    .filter(([date]) => inCalendar(date))
    .sort(([a], [b]) => a.localeCompare(b))
    .map(([date, ofDay]) => {
      const entries = [...grouped(ofDay, v => v.key)].map(([key, all]): DiaryEntry => {
        const before = ceilings.get(key) ?? null
        const direction = directionOfKey(key)
        const reached = hardest(
          all.map(v => v.ceiling),
          direction,
        )
        const rose = reached && (!before || compareHard(reached, before, direction) > 0)
        if (rose) ceilings.set(key, reached)
        return {
          key,
          ...total(all.map(sumsOf)),
          ceiling: rose ? reached : null,
          before,
          goal: all.some(v => v.goal),
        }
      })
      return { date, ...total(entries), entries }
    })
}

/** The weeks from a day on in which something was played, and the one that is under way. */
export const weeksOf = (days: readonly Day[], from: string, today: string): readonly Week[] => {
  const shown = days.filter(d => d.date >= from)
  const now = from <= today ? [mondayOf(today)] : []
  const mondays = new Set([...shown.map(d => mondayOf(d.date)), ...now])
  return [...mondays].sort().map(monday => {
    const sunday = dayAfter(monday, 6)
    const all = shown.filter(d => mondayOf(d.date) === monday)
    const first = from > monday && from <= sunday ? from : monday
    // A traveler's or a wrong clock's day may lie ahead of today.
    const here = [today, all.at(-1)?.date ?? today].reduce((a, b) => (a > b ? a : b))
    const last = monday <= today && here < sunday ? here : sunday
    return {
      from: monday,
      to: sunday,
      length: daysBetween(first, last) + 1,
      seconds: total(all).seconds,
      days: all,
    }
  })
}
