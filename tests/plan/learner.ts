import type { Body, Event, LadderState } from '../../src/ladder/event.ts'
import { begun, fold, judged } from '../../src/ladder/fold.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { type Before, opening } from '../../src/ladder/start.ts'
import { compareTempo, faster, type Tempo, tempo, tempoRatio } from '../../src/music/tempo.ts'

/**
 * Invented learners of one section, for tests only: what they are like is drawn from ranges that we chose, so nothing that
 * comes out of them says anything about people. Four kinds that contradict each other: the best learning just below what is
 * possible (challenge), in easy repetitions (errorless, where a slip undoes a clean one), near the goal tempo (speed), or in
 * any clean repetition (flat).
 */
export const KINDS = ['challenge', 'errorless', 'speed', 'flat'] as const
export type Kind = (typeof KINDS)[number]

/** The same chances for the same number: mulberry32. */
export const chances = (seed: number): (() => number) => {
  let a = seed | 0
  return () => {
    a = (a + 0x6d2b79f5) | 0
    let t = Math.imul(a ^ (a >>> 15), 1 | a)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

const normal = (chance: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance())

/** What a repetition at a distance from the present ability teaches (natural logarithms of tempo). */
const WORTH: Readonly<Record<Kind, (v: number, ability: number, goal: number) => number>> = {
  challenge: (v, ability) => bell(v - ability + 0.05, 0.12),
  errorless: (v, ability) => bell(v - ability + 0.18, 0.14),
  speed: (v, _, goal) => bell(v - goal, 0.25),
  flat: () => 0.7,
}
/** What a slip teaches, as a share of a clean repetition. */
const SLIP: Readonly<Record<Kind, number>> = { challenge: 0.3, errorless: -1, speed: 0.3, flat: 0.2 }

const bell = (distance: number, width: number): number => Math.exp(-(distance ** 2) / (2 * width ** 2))

const GOAL = tempo(126)

/** One head at one section: what it makes of a repetition, and of a night. Tempos are those of a goal of 126. */
export type Pupil = {
  /** Whether it was clean, as the player hears it: one slip in twenty passes, one clean repetition in fifty is refused. */
  readonly repetition: (t: Tempo, count: number, tired: number) => boolean
  /** A day's practice has made so tired: what it is after a repetition more. */
  readonly tiredAfter: (tired: number) => number
  /** Some of what was learned today stays. */
  readonly night: () => void
  /** A day without it takes a share of all that was learned. */
  readonly off: () => void
  /** Beats of the section. */
  readonly beats: number
}

export const pupil = (kind: Kind, seed: number, forgets = 0): Pupil => {
  const chance = chances(seed)
  const between = (a: number, b: number): number => a + (b - a) * chance()
  const goal = Math.log(tempoRatio(GOAL, tempo(1)))
  const best = goal + Math.log(between(1.15, 1.5))
  const width = between(0.04, 0.11)
  const lapse = between(0.01, 0.06)
  const quickness = 0.01 * Math.exp(0.5 * normal(chance))
  const warmUp = between(0.02, 0.08)
  const tiring = between(0, 0.06)
  const kept = between(0.6, 1.1)
  const beats = Math.round(between(6, 16))
  const first = goal + Math.log(between(0.55, 0.85))
  let slow = first
  let today = 0

  const repetition = (t: Tempo, count: number, tired: number): boolean => {
    const v = Math.log(tempoRatio(t, tempo(1)))
    const ability = slow + today - warmUp * Math.exp(-count / 5) - tired
    const clean = chance() < (1 - lapse) / (1 + Math.exp((v - ability) / width))
    const worth = WORTH[kind](v, ability, goal) * (clean ? 1 : SLIP[kind])
    const gain = quickness * worth * (best - slow - today)
    today += 0.6 * gain
    slow += 0.4 * gain
    return clean ? chance() >= 0.02 : chance() < 0.05
  }
  const night = (): void => {
    slow += kept * today
    today = 0
  }
  const off = (): void => {
    slow = first + (slow - first) * (1 - forgets)
  }
  return {
    repetition,
    tiredAfter: tired => tiring - (tiring - tired) * Math.exp(-1 / 25),
    night,
    off,
    beats,
  }
}

export type Learner = {
  readonly kind: Kind
  /** One day of practice on the section; gives the best rung that was completed on it. */
  readonly day: (minutes: number) => Tempo | null
  /** A day without it. */
  readonly off: () => void
}

/** A learner who practices the section `minutes` a day, with the ladder as it is: opening, fold, rules, goal. */
/** `forgets` = the share of what was learned that a day without it takes. */
export const learner = (kind: Kind, seed: number, forgets = 0): Learner => {
  const { repetition, tiredAfter, night, off, beats } = pupil(kind, seed, forgets)
  let before: Before | null = null
  let days = 0

  const day = (minutes: number): Tempo | null => {
    const open = opening(null, GOAL, { kind: 'notch' }, before)
    if (!open.ok) throw new Error('no ladder')
    const { rungs, at, find } = open.value
    const events: Event[] = []
    const write = <B extends Body>(body: B): Event & B => {
      const n = events.length + 1
      const told = { id: `d${days}-${n}`, session: `d${days}`, n, visit: `d${days}-1`, time: '', offset: 0 }
      const event = { ...body, ...told } as Event & B
      events.push(event)
      return event
    }
    const rules = { ...DEFAULT_RULES, ...(find ? { find } : {}) }
    // Step by step: the whole fold after each repetition would come to the same, and takes its time.
    let state = begun(write<Body & { kind: 'visit' }>({ kind: 'visit', key: 'section', rungs, at, rules }))
    let clean = true
    let tired = 0
    for (let [seconds, rep] = [0, 0]; seconds < minutes * 60; rep++) {
      const t = state.rungs[state.at] as Tempo
      clean = repetition(t, rep, tired)
      tired = tiredAfter(tired)
      state = judged(state, write({ kind: 'verdict', rep, tempo: t, whole: true, clean }))
      seconds += ((beats + 4) * 60) / tempoRatio(t, tempo(1)) + 3 + (state.rungs[state.at] === t ? 0 : 1)
    }
    night()
    days++
    const reached = fold(events) as LadderState
    const ceiling = [before?.ceiling ?? null, reached.ceiling].filter(t => t !== null)
    before = {
      ceiling: ceiling.length > 0 ? ceiling.reduce(faster) : null,
      days: 1,
      last: { tempo: reached.rungs[reached.at] as Tempo, slipped: !clean, minutes: 1440 },
    }
    return reached.ceiling
  }
  return {
    kind,
    day,
    off: () => {
      off()
      if (before) before = { ...before, days: before.days + 1 }
    },
  }
}

export const atGoal = (t: Tempo | null): boolean => t !== null && compareTempo(t, GOAL) >= 0
export const goalTempo = GOAL
