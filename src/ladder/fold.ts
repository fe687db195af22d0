import { sameTempo, type Tempo } from '../music/tempo.ts'
import { compareHard, type Direction, directionOf, harder } from './direction.ts'
import type { Event, LadderState } from './event.ts'
import { directionOfKey } from './key.ts'
import { isMet, type Rules } from './rules.ts'

/** In search of a start: so many rungs up after a clean repetition, down after one that is not. */
const FIND_UP = 3
const FIND_DOWN = 2

/** What the fold keeps beside the public state: counts on this rung, and what the next drop depends on. */
export type Inner = LadderState & {
  readonly rules: Rules
  readonly direction: Direction
  readonly total: number
  readonly recent: readonly boolean[]
  /** No clean repetition since the last drop: the next one is two rungs. */
  readonly sinking: boolean
  /** While finding the start: a repetition was not clean, so the next clean one ends the search. */
  readonly slipped: boolean
}

const clamp = (i: number, all: readonly unknown[]): number => Math.max(0, Math.min(all.length - 1, i))

/** Every arrival on a rung starts empty. */
const arrive = (s: Inner, at: number): Inner => ({
  ...s,
  at: clamp(at, s.rungs),
  row: 0,
  slips: 0,
  total: 0,
  recent: [],
})

const isGoal = (s: Inner): boolean => s.at === s.rungs.length - 1 && !s.rules.capped

const done = (s: Inner): boolean => {
  if (isGoal(s)) return s.row >= s.rules.top
  return isMet(s.rules.up, s)
}

const clean = (s: Inner): Inner => {
  const counted = {
    ...s,
    row: s.row + 1,
    slips: 0,
    total: s.total + 1,
    recent: [...s.recent, true].slice(-20),
    sinking: false,
  }
  if (!done(counted)) return counted
  const rung = s.rungs[s.at] as Tempo
  const ceiling = s.ceiling ? harder(s.ceiling, rung, s.direction) : rung
  return { ...arrive(counted, s.at + 1), ceiling, goal: s.goal || isGoal(s) }
}

const slip = (s: Inner): Inner => {
  const slips = s.slips + 1
  const counted = { ...s, row: 0, slips, recent: [...s.recent, false].slice(-20) }
  if (s.rules.slips === 0 || slips < s.rules.slips) return counted
  const fallen = { ...counted, slips: 0, drops: s.drops + 1 }
  // On the lowest rung the tempo stays, and what was counted there with it.
  if (s.at === 0) return fallen
  return { ...arrive(fallen, s.at - (s.sinking ? 2 : 1)), sinking: true }
}

/** The first clean repetition after one that was not is the start; there the counting begins. */
const search = (s: Inner, isClean: boolean): Inner => {
  if (!isClean) return { ...arrive(s, s.at - FIND_DOWN), slipped: true }
  const found = s.slipped || s.at === s.rungs.length - 1
  return found ? { ...s, finding: false } : arrive(s, s.at + FIND_UP)
}

/** One verdict more: a step of the fold. */
export const judged = (s: Inner, e: Event & { kind: 'verdict' }): Inner => {
  // A repetition at another tempo (changed by hand while it ran) is logged but does not count here.
  if (!sameTempo(e.tempo, s.rungs[s.at] as Tempo)) return s
  if (e.clean && !e.whole) return s
  if (s.finding) return search(s, e.clean)
  return e.clean ? clean(s) : slip(s)
}

/** A tempo by hand: added to the rungs where it is new; beyond the last rung there is nothing. */
const move = (s: Inner, to: Tempo): Inner => {
  if (compareHard(to, s.rungs.at(-1) as Tempo, s.direction) > 0) return s
  const known = s.rungs.findIndex(t => sameTempo(t, to))
  if (known === s.at) return s
  if (known >= 0) return arrive(s, known)
  const all = [...s.rungs, to].sort((a, b) => compareHard(a, b, s.direction))
  return arrive({ ...s, rungs: all }, all.indexOf(to))
}

/** A line of the journal is lost: the row and all counts on the rung start again. */
const lost = (s: Inner): Inner => ({ ...s, row: 0, total: 0, recent: [] })

/** A repetition that nobody answered. */
const silent = (s: Inner): Inner => ({ ...s, row: 0 })

/** What each thing that happens does to where a visit stands. */
export const STEPS = { judged, move, silent, lost } as const
export type Steps = typeof STEPS

/** A visit that has just been opened. */
export const begun = (e: Event & { kind: 'visit' }): Inner => ({
  rungs: e.rungs,
  at: clamp(e.at, e.rungs),
  row: 0,
  slips: 0,
  drops: 0,
  ceiling: null,
  goal: false,
  finding: e.rules.find === true,
  rules: e.rules,
  direction: directionOf(e.rungs),
  total: 0,
  recent: [],
  sinking: false,
  slipped: false,
})

/** The events of one visit, which lives in one session, by their numbers, each once. Times play no part. */
export const inOrder = (visit: readonly Event[]): readonly Event[] => {
  // As nearly all are: a journal of years is asked for each of its visits several times.
  if (visit.every((e, i) => i === 0 || (visit[i - 1] as Event).n < e.n)) return visit
  return [...new Map([...visit].reverse().map(e => [e.id, e])).values()].sort((a, b) => a.n - b.n)
}

const isRepetition = (e: Event): e is Event & { kind: 'verdict' | 'unjudged' } =>
  e.kind === 'verdict' || e.kind === 'unjudged'

/** The events of one visit that count: in order, without the repetitions that were taken back. */
export const countedEvents = (visit: readonly Event[]): readonly Event[] => {
  const takenBack = new Set(visit.flatMap(e => (e.kind === 'takeBack' ? [e.of] : [])))
  return inOrder(visit).filter(e => !(isRepetition(e) && takenBack.has(e.id)))
}

/**
 * Where a visit stands after its events. The same function serves the screen, the journal and the tests.
 * A repetition is judged once; a gap in the numbers (a lost line) empties the row and all counts on the rung.
 * Returns null when the opening event is missing.
 */
export const fold = (visit: readonly Event[], steps: Steps = STEPS): LadderState | null => {
  const ordered = inOrder(visit)
  const counts = new Set(countedEvents(visit))
  const opening = ordered.find((e): e is Event & { kind: 'visit' } => e.kind === 'visit')
  if (!opening || opening.rungs.length === 0) return null
  let s = begun(opening)
  let last = opening.n - 1
  const heard = new Set<number>()
  for (const e of ordered) {
    if (e.n !== last + 1) s = steps.lost(s)
    last = e.n
    if (!counts.has(e)) continue
    if (e.kind === 'move') s = steps.move(s, e.to)
    if (!isRepetition(e) || heard.has(e.rep)) continue
    heard.add(e.rep)
    if (e.kind === 'verdict') s = steps.judged(s, e)
    else if (e.why === 'silent') s = steps.silent(s)
  }
  const { rungs, at, row, slips, drops, ceiling, goal, finding } = s
  return { rungs, at, row, slips, drops, ceiling, goal, finding }
}

/** The hardest tempo completed in any visit of each key. Visits are folded one by one, never as one stream. */
export const ceilings = (
  visits: readonly (readonly Event[])[],
  steps: Steps = STEPS,
): ReadonlyMap<string, Tempo> => {
  const out = new Map<string, Tempo>()
  for (const visit of visits) {
    const key = visit.find((e): e is Event & { kind: 'visit' } => e.kind === 'visit')?.key
    const reached = fold(visit, steps)?.ceiling
    if (key === undefined || !reached) continue
    const known = out.get(key)
    out.set(key, known ? harder(known, reached, directionOfKey(key)) : reached)
  }
  return out
}
