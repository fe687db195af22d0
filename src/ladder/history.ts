import { faster, type Tempo } from '../music/tempo.ts'
import type { Event } from './event.ts'
import { fold, standing } from './fold.ts'

/** What the journal knows of one key (a section in one rhythm). Times are labels as written: ISO, minutes east of UTC. */
export type History = {
  readonly ceiling: Tempo | null
  readonly last: {
    readonly tempo: Tempo
    readonly slipped: boolean
    readonly time: string
    readonly offset: number
  } | null
  readonly visits: readonly Visit[]
}

export type Visit = {
  readonly time: string
  readonly offset: number
  readonly clean: number
  readonly verdicts: number
  readonly played: number
  readonly ceiling: Tempo | null
  readonly goal: boolean
}

const verdictsOf = (events: readonly Event[]) =>
  events.filter((e): e is Event & { k: 'verdict' } => e.k === 'verdict')

/** Clean verdicts, all verdicts, and repetitions heard, of one visit. */
export const counts = (visit: readonly Event[]): { clean: number; verdicts: number; played: number } => {
  const events = standing(visit)
  const verdicts = verdictsOf(events)
  const unjudged = events.filter(e => e.k === 'unjudged')
  return {
    clean: verdicts.filter(v => v.clean).length,
    verdicts: verdicts.length,
    played: verdicts.length + unjudged.length,
  }
}

/** The history of every key, from all visits of the journal. */
export const histories = (visits: readonly (readonly Event[])[]): ReadonlyMap<string, History> => {
  const out = new Map<string, History>()
  for (const events of visits) {
    const opened = events.find((e): e is Event & { k: 'visit' } => e.k === 'visit')
    const state = fold(events)
    if (!opened || !state) continue
    const verdict = verdictsOf(standing(events)).at(-1)
    const tempo = state.rungs[state.at] as Tempo
    const last = verdict && { tempo, slipped: !verdict.clean, time: verdict.time, offset: verdict.offset }
    const visit: Visit = {
      time: opened.time,
      offset: opened.offset,
      ...counts(events),
      ceiling: state.ceiling,
      goal: state.goal,
    }
    const known = out.get(opened.key) ?? { ceiling: null, last: null, visits: [] }
    const reached = [known.ceiling, state.ceiling].filter(t => t !== null)
    out.set(opened.key, {
      ceiling: reached.length > 0 ? reached.reduce(faster) : null,
      last: last && (!known.last || known.last.time <= last.time) ? last : known.last,
      visits: [...known.visits, visit],
    })
  }
  return out
}
