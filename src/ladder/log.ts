import { localDay } from '../music/day.ts'
import { type Tempo, tempoRatio } from '../music/tempo.ts'
import { compareHard, type Direction, harder } from './direction.ts'
import type { Visit } from './history.ts'

/** One day of practice on one key. */
export type LoggedDay = {
  readonly day: string
  readonly minutes: number
  readonly clean: number
  readonly verdicts: number
  /** Hardest rung completed on this day; null = none. */
  readonly best: Tempo | null
  /** The same by each rule that a rung was done by ("3-in-a-row"), the rule of the latest visit last. */
  readonly reached: readonly Reached[]
  /** The ceiling after this day; it never falls. */
  readonly ceiling: Tempo | null
}

type Reached = { readonly rule: string; readonly best: Tempo }

const hardest =
  (d: Direction) =>
  (a: Tempo | null, b: Tempo | null): Tempo | null =>
    a && b ? harder(a, b, d) : (a ?? b)

const withVisit = (all: readonly Reached[], { rule, ceiling }: Visit, d: Direction): readonly Reached[] => {
  if (!ceiling) return all
  const best = all.find(r => r.rule === rule)?.best
  return [...all.filter(r => r.rule !== rule), { rule, best: best ? harder(best, ceiling, d) : ceiling }]
}

/** The visits of one key as days, in order; a visit without a verdict leaves no day. */
export const logOf = (visits: readonly Visit[], d: Direction = 'up'): readonly LoggedDay[] => {
  const greatest = hardest(d)
  const days = new Map<string, Omit<LoggedDay, 'ceiling'>>()
  for (const v of visits.filter(v => v.verdicts > 0)) {
    const day = localDay(v.time, v.offset)
    const known = days.get(day)
    days.set(day, {
      day,
      minutes: (known?.minutes ?? 0) + v.seconds / 60,
      clean: (known?.clean ?? 0) + v.clean,
      verdicts: (known?.verdicts ?? 0) + v.verdicts,
      best: greatest(known?.best ?? null, v.ceiling),
      reached: withVisit(known?.reached ?? [], v, d),
    })
  }
  let ceiling: Tempo | null = null
  return [...days.keys()].sort().map(day => {
    const x = days.get(day) as Omit<LoggedDay, 'ceiling'>
    ceiling = greatest(ceiling, x.best)
    return { ...x, ceiling }
  })
}

/** What a plan counts on: the goal where it was ever reached, else the higher of the last two days' best rungs. */
export const planningCeiling = (
  log: readonly LoggedDay[],
  goal: Tempo,
  d: Direction = 'up',
): Tempo | null => {
  const all = log.at(-1)?.ceiling ?? null
  if (all && compareHard(all, goal, d) >= 0) return all
  return log
    .flatMap(x => x.best ?? [])
    .slice(-2)
    .reduce<Tempo | null>(hardest(d), null)
}

/** ln of the ceiling over that of the first day that had one; of a ladder that leads down the other way round. */
export const lnGain = (log: readonly LoggedDay[]): number => {
  const [first, last] = [log.find(d => d.ceiling)?.ceiling, log.at(-1)?.ceiling]
  return first ? Math.abs(Math.log(tempoRatio(last as Tempo, first))) : 0
}
