import type { Event } from '../../../src/ladder/event.ts'
import { begun, judged } from '../../../src/ladder/fold.ts'
import type { Last, Visit } from '../../../src/ladder/history.ts'
import { sectionKey, type TakeKind, takeKey } from '../../../src/ladder/key.ts'
import { type LoggedDay, logOf } from '../../../src/ladder/log.ts'
import { type ColdTake, readySince } from '../../../src/ladder/ready.ts'
import { DEFAULT_RULES, type Rules } from '../../../src/ladder/rules.ts'
import { type Before, type Opening, opening } from '../../../src/ladder/start.ts'
import { dayAfter } from '../../../src/music/day.ts'
import { compareTempo, faster, type Tempo, tempo, tempoRatio } from '../../../src/music/tempo.ts'
import { OVER } from '../../../src/visit/slot-clock.ts'
import type { Head } from './heads.ts'

/** The days on which a player has this head, this time and these passages; played through the real ladder. */

const FIRST_DAY = '2031-03-03'
const ONE = tempo(1)
const bpmOf = (t: Tempo): number => tempoRatio(t, ONE)

/** A passage as the player has come to know it. */
export type Passage = {
  readonly key: string
  readonly head: Head
  readonly goal: Tempo
  readonly start: Tempo
  visits: Visit[]
  takes: ColdTake[]
  ceiling: Tempo | null
  last: {
    readonly tempo: Tempo
    readonly slipped: boolean
    readonly day: number
    readonly second: number
  } | null
  /** Seconds of practice so far. */
  seconds: number
}

export type Week = {
  readonly passages: readonly Passage[]
  readonly minutes: number
  readonly days: number
  day: number
  /** Of this day, rests included. */
  second: number
  /** Seconds of music on each day. */
  readonly played: number[]
  /** Minutes that were planned for nothing. */
  readonly idle: number[]
  wear: number
  here: Passage | null
  /** The same player before this week, with other chances: what one would see who knows the player. */
  readonly again: (luck: number) => readonly Head[]
}

export const atGoal = (p: Passage): boolean => p.ceiling !== null && compareTempo(p.ceiling, p.goal) >= 0

export const dateOf = (day: number): string => dayAfter(FIRST_DAY, day)

export const newWeek = (
  all: readonly Head[],
  days: number,
  minutes: number,
  again: Week['again'] = () => [],
): Week => ({
  again,
  passages: all.map((head, i) => ({
    key: sectionKey(`pass${String(i).padStart(4, '0')}`),
    head,
    goal: tempo(head.music.goal),
    start: tempo(head.music.start),
    visits: [],
    takes: [],
    ceiling: null,
    last: null,
    seconds: 0,
  })),
  minutes,
  days,
  day: 0,
  second: 0,
  played: Array(days).fill(0),
  idle: Array(days).fill(0),
  wear: 0,
  here: null,
})

/** Seconds of one repetition: count-in, music, and the pause after it. */
const COUNT_IN = 4
const repetitionSeconds = (p: Passage, bpm: number, clean: boolean): number =>
  ((p.head.music.beats + COUNT_IN) * 60) / bpm + (clean ? 2 : 4) + 0.5
export const usualSeconds = (p: Passage, t: Tempo): number =>
  ((p.head.music.beats + COUNT_IN) * 60) / bpmOf(t) + 3

const once = (w: Week, p: Passage, t: Tempo): boolean => {
  if (w.here && w.here !== p) w.here.head.rest()
  w.here = p
  const bpm = bpmOf(t)
  p.head.tire(w.wear / 60)
  const clean = p.head.play(bpm)
  const seconds = repetitionSeconds(p, bpm, clean)
  w.second += seconds
  w.wear += seconds
  w.played[w.day] = (w.played[w.day] as number) + seconds
  p.seconds += seconds
  return clean
}

const timeOf = (w: Week): string =>
  new Date(Date.parse(`${dateOf(w.day)}T18:00:00Z`) + w.second * 1000).toISOString()

const kept = (key: string, from: string, o: Omit<Partial<Visit>, 'key'> & { last: Last }): Visit => ({
  id: `${key}${from}`,
  key,
  time: from,
  offset: 0,
  clean: 0,
  verdicts: 1,
  played: 1,
  seconds: 0,
  ceiling: null,
  goal: false,
  rule: '3-in-a-row',
  stops: [],
  air: null,
  ...o,
})

const beforeOf = (w: Week, p: Passage, day = w.day): Before | null =>
  p.last && {
    ceiling: p.ceiling,
    days: day - p.last.day,
    last: { tempo: p.last.tempo, slipped: p.last.slipped, minutes: (w.second - p.last.second) / 60 },
  }

export const openingOf = (w: Week, p: Passage): Opening => {
  const open = opening(p.start, p.goal, { kind: 'notch' }, beforeOf(w, p))
  if (!open.ok) throw new Error(open.problem.accepted)
  return open.value
}

/** A visit of so many minutes on the passage's ladder. `over`: it ends when its rung is decided, a minute late at most. */
export const visit = (
  w: Week,
  p: Passage,
  minutes: number,
  o: { readonly top?: Tempo | null; readonly over?: boolean; readonly leaveAtGoal?: boolean } = {},
): void => {
  const { rungs: all, at, find } = openingOf(w, p)
  const low = o.top ? all.filter((t, i) => i <= at || compareTempo(t, o.top as Tempo) <= 0) : all
  const rules: Rules = {
    ...DEFAULT_RULES,
    ...(find ? { find: true } : {}),
    ...(low.length < all.length ? { capped: true } : {}),
  }
  const label = { id: '', session: '', n: 1, visit: '', time: '', offset: 0 }
  let s = begun({ ...label, kind: 'visit', key: p.key, rungs: low, at, rules } as Event & { kind: 'visit' })
  const [from, began] = [timeOf(w), w.second]
  let [verdicts, right, clean] = [0, 0, false]
  for (;;) {
    const gone = w.second - began
    if (gone >= minutes * 60 && (s.row === 0 || !o.over || gone >= minutes * 60 + OVER)) break
    if (o.leaveAtGoal && s.goal) break
    const t = s.rungs[s.at] as Tempo
    clean = once(w, p, t)
    verdicts++
    if (clean) right++
    s = judged(s, { ...label, kind: 'verdict', rep: verdicts, tempo: t, whole: true, clean } as Event & {
      kind: 'verdict'
    })
  }
  if (verdicts === 0) return
  if (s.ceiling) p.ceiling = p.ceiling ? faster(p.ceiling, s.ceiling) : s.ceiling
  const here = s.rungs[s.at] as Tempo
  p.last = { tempo: here, slipped: !clean, day: w.day, second: w.second }
  p.visits.push(
    kept(p.key, from, {
      clean: right,
      verdicts,
      played: verdicts,
      seconds: Math.round(w.second - began),
      ceiling: s.ceiling,
      goal: s.goal,
      last: { tempo: here, slipped: !clean, time: timeOf(w), offset: 0 },
    }),
  )
}

/** Single repetitions apart from the ladder. */
export const take = (w: Week, p: Passage, kind: TakeKind, t: Tempo): void => {
  const from = timeOf(w)
  const clean = once(w, p, t)
  const last = { tempo: t, slipped: !clean, time: timeOf(w), offset: 0 }
  p.visits.push(kept(takeKey(kind, p.key), from, { clean: clean ? 1 : 0, last }))
  if (kind === 'cold') p.takes.push({ day: dateOf(w.day), tempo: t, clean })
}

export const rest = (w: Week): void => {
  for (const p of w.passages) p.head.rest()
  w.wear /= 2
  w.here = null
}

export const night = (w: Week): void => {
  for (const p of w.passages) p.head.night()
  w.day++
  w.second = 0
  w.wear = 0
  w.here = null
}

export const logOfPassage = (p: Passage): readonly LoggedDay[] => logOf(p.visits.filter(v => v.key === p.key))

export const isReady = (p: Passage): boolean => readySince(atGoal(p) ? '' : null, p.goal, p.takes) !== null

export type Measured = {
  /** Chance that the first take on the date is clean at the goal: mean, and of the worst passage. */
  readonly clean: number
  readonly worst: number
  /** Share of the goal that is clean four times in five. */
  readonly tempo: number
  readonly worstTempo: number
  readonly minutes: number
  readonly idle: number
  readonly ready: number
  readonly reached: number
}

const mean = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0) / all.length

export const measured = (w: Week): Measured => {
  const first = w.passages.map(p => p.head.firstClean())
  const sure = w.passages.map(p => p.head.sure())
  const reached = w.passages.map(p => (atGoal(p) ? 1 : 0))
  return {
    clean: mean(first),
    worst: Math.min(...first),
    tempo: mean(sure),
    worstTempo: Math.min(...sure),
    minutes: mean(w.played) / 60,
    idle: mean(w.idle),
    ready: mean(w.passages.map(p => (isReady(p) ? 1 : 0))),
    reached: mean(reached),
  }
}
