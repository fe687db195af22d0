import type { Week } from '../music/day-words.ts'
import type { Tempo } from '../music/tempo.ts'
import { harder } from './direction.ts'
import type { Event } from './event.ts'
import { countedEvents, fold, inOrder } from './fold.ts'
import { directionOfKey, takenFrom } from './key.ts'
import { type Climb, upText } from './rules.ts'

/** Where a visit stopped: its last verdict that stands. Times are labels as written: ISO, minutes east of UTC. */
export type Last = {
  readonly tempo: Tempo
  readonly slipped: boolean
  readonly time: string
  readonly offset: number
}

/** Where the music was stopped ("43.2", see music/place.ts), and at which tempo. */
type Stop = { readonly place: string; readonly tempo: Tempo }

/** What is kept of one visit. `time` and `offset` are those of its opening. */
export type Visit = {
  readonly id: string
  readonly key: string
  readonly time: string
  readonly offset: number
  readonly clean: number
  readonly verdicts: number
  readonly played: number
  /** Whole seconds of practice: what was heard, and short waits. */
  readonly seconds: number
  readonly ceiling: Tempo | null
  readonly goal: boolean
  readonly last: Last | null
  /** When a rung was done, as "3-in-a-row": ceilings reached by another rule are not compared. */
  readonly rule: string
  /** In order; those that were taken back are not among them. */
  readonly stops: readonly Stop[]
  /** Seconds of the longest breath that was played clean; null = none whose places to breathe were marked. */
  readonly air: number | null
}

/** What the journal knows of one key (a section in one rhythm). */
export type History = {
  readonly ceiling: Tempo | null
  readonly last: Last | null
  readonly visits: readonly Visit[]
}

const verdictsOf = (events: readonly Event[]) =>
  events.filter((e): e is Event & { kind: 'verdict' } => e.kind === 'verdict')

const countsOf = (counted: readonly Event[]) => {
  const verdicts = verdictsOf(counted)
  return {
    clean: verdicts.filter(v => v.clean).length,
    verdicts: verdicts.length,
    played: verdicts.length + counted.filter(e => e.kind === 'unjudged').length,
  }
}

/** Clean verdicts, all verdicts, and repetitions heard, of one visit. */
export const counts = (visit: readonly Event[]): { clean: number; verdicts: number; played: number } =>
  countsOf(countedEvents(visit))

/** Seconds of waiting that still belong to practice, and the longest time that one repetition can take. */
const PAUSE = 20
const LONGEST = 300

/**
 * Whole seconds of practice in one visit: what its opening says was heard before, then the times of its events. A visit
 * has its usual time from one event to the next (the median; count-in and repetition); a longer one counts as the usual one and
 * 20 s of waiting, five minutes at most. A clock that was set back takes nothing away.
 */
export const practiced = (visit: readonly Event[]): number => {
  const events = inOrder(visit)
  const [heard = 0] = events.flatMap(e => (e.kind === 'visit' ? (e.heard ?? []) : []))
  const times = events.map(e => Date.parse(e.time) / 1000)
  const gaps = times.slice(1).map((t, i) => Math.max(0, t - (times[i] as number)))
  const usual = gaps.filter(g => g >= 1).sort((a, b) => a - b)
  const most = Math.min(LONGEST, (usual[(usual.length - 1) >> 1] ?? 0) + PAUSE)
  return Math.round(gaps.reduce((sum, g) => sum + Math.min(g, most), Math.min(LONGEST, heard)))
}

/** What is kept of a visit; null when its opening is lost. */
export const summary = (visit: readonly Event[]): Visit | null => {
  const events = inOrder(visit)
  const opened = events.find((e): e is Event & { kind: 'visit' } => e.kind === 'visit')
  const state = fold(events)
  if (!opened || !state) return null
  const counted = countedEvents(events)
  const verdict = verdictsOf(counted).at(-1)
  const tempo = state.rungs[state.at] as Tempo
  return {
    id: opened.id,
    key: opened.key,
    time: opened.time,
    offset: opened.offset,
    ...countsOf(counted),
    seconds: practiced(events),
    ceiling: state.ceiling,
    goal: state.goal,
    last: verdict ? { tempo, slipped: !verdict.clean, time: verdict.time, offset: verdict.offset } : null,
    rule: upText(opened.rules.up),
    stops: verdictsOf(counted).flatMap(v =>
      !v.clean && v.place ? [{ place: v.place, tempo: v.tempo }] : [],
    ),
    air: airOf(events),
  }
}

const together = (key: string, visits: readonly Visit[]): History => {
  const ceilings = visits.flatMap(v => v.ceiling ?? [])
  const lasts = visits.flatMap(v => v.last ?? [])
  return {
    ceiling: ceilings.length > 0 ? ceilings.reduce((a, b) => harder(a, b, directionOfKey(key))) : null,
    last: lasts.length > 0 ? lasts.reduce((a, b) => (a.time <= b.time ? b : a)) : null,
    visits,
  }
}

/** All that was ever practiced, and the history of each key. */
export type Histories = {
  readonly of: (key: string) => History | undefined
  readonly visits: readonly Visit[]
  /** How the player wants a ladder climbed where its passage does not say. */
  readonly usual?: Climb
  /** The days of the week on which the player plays; absent = every day, as far as anybody said. */
  readonly week?: Week
}

/** The history of every key, from what was kept of all visits. */
export const historiesOf = (visits: readonly Visit[]): Histories => {
  const byKey = new Map<string, Visit[]>()
  for (const visit of visits) {
    const known = byKey.get(visit.key)
    if (known) known.push(visit)
    else byKey.set(visit.key, [visit])
  }
  const all = new Map([...byKey].map(([key, of]) => [key, together(key, of)]))
  return { of: key => all.get(key), visits }
}

/** What can be written of one breath, seconds. Nobody plays longer in one breath or with one bow. */
export const LEAST_AIR = 0.01
export const MOST_AIR = 600

const greatest = (all: readonly number[]): number | null => (all.length > 0 ? Math.max(...all) : null)

/** The longest breath in whole clean repetitions of one visit, seconds; those that were taken back do not count. */
export const airOf = (visit: readonly Event[]): number | null =>
  greatest(
    countedEvents(visit).flatMap(e => (e.kind === 'verdict' && e.whole && e.clean && e.air ? [e.air] : [])),
  )

/** The longest breath that was ever played clean, seconds; a repetition without a sound needs none. */
export const longestClean = (
  visits: readonly { readonly key: string; readonly air: number | null }[],
): number | null =>
  greatest(visits.flatMap(v => (v.air !== null && takenFrom(v.key).take !== 'silent' ? [v.air] : [])))
