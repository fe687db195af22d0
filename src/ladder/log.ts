import { localDay } from '../music/day.ts'
import { compareTempo, faster, type Tempo, tempoRatio } from '../music/tempo.ts'
import type { Visit } from './history.ts'

/** One day of practice on one key. */
export type LoggedDay = {
  readonly day: string
  readonly minutes: number
  readonly clean: number
  readonly verdicts: number
  /** Highest rung completed on this day; null = none. */
  readonly best: Tempo | null
  /** The same by each rule that a rung was done by ("3-in-a-row"), the rule of the latest visit last. */
  readonly reached: readonly Reached[]
  /** The ceiling after this day; it never falls. */
  readonly ceiling: Tempo | null
}

type Reached = { readonly rule: string; readonly best: Tempo }

const greatest = (a: Tempo | null, b: Tempo | null): Tempo | null => (a && b ? faster(a, b) : (a ?? b))

const withVisit = (all: readonly Reached[], { rule, ceiling }: Visit): readonly Reached[] => {
  if (!ceiling) return all
  const best = all.find(r => r.rule === rule)?.best
  return [...all.filter(r => r.rule !== rule), { rule, best: best ? faster(best, ceiling) : ceiling }]
}

/** The visits of one key as days, in order; a visit without a verdict leaves no day. */
export const logOf = (visits: readonly Visit[]): readonly LoggedDay[] => {
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
      reached: withVisit(known?.reached ?? [], v),
    })
  }
  let ceiling: Tempo | null = null
  return [...days.values()]
    .sort((a, b) => (a.day < b.day ? -1 : 1))
    .map(d => {
      ceiling = greatest(ceiling, d.best)
      return { ...d, ceiling }
    })
}

/** What a plan counts on: the goal where it was ever reached, else the higher of the last two days' best rungs. */
export const planningCeiling = (log: readonly LoggedDay[], goal: Tempo): Tempo | null => {
  const all = log.at(-1)?.ceiling ?? null
  if (all && compareTempo(all, goal) >= 0) return all
  return log
    .flatMap(d => d.best ?? [])
    .slice(-2)
    .reduce<Tempo | null>(greatest, null)
}

/** ln of the ceiling over that of the first day that had one. */
export const lnGain = (log: readonly LoggedDay[]): number => {
  const [first, last] = [log.find(d => d.ceiling)?.ceiling, log.at(-1)?.ceiling]
  return first && last ? Math.log(tempoRatio(last, first)) : 0
}
