import { type Direction, shareOfGoal } from '../ladder/direction.ts'
import { FIND_FROM } from '../ladder/start.ts'
import { dayAfter } from '../music/day.ts'
import type { Week } from '../music/day-words.ts'
import { type Tempo, tempoRatio } from '../music/tempo.ts'
import { daysToPlay } from './turns.ts'

/** A passage from its first note to its last: what is played on the day itself. */
export type Whole = {
  readonly key: string
  readonly label: string
  readonly goal: Tempo
  readonly top: Tempo | null
  /** One repetition with count-in and rest. */
  readonly seconds: number
}

/** One stretch of music with a ladder of its own, as the plan sees it: a passage, a section, or the rest of a passage. */
export type Work = {
  readonly key: string
  readonly label: string
  /** What it belongs to: after its date one question is asked for all of it. */
  readonly piece: string
  /** The passage that it is a part of; absent where it is a passage itself. */
  readonly whole?: Whole
  readonly goal: Tempo
  /** Nobody knows the goal yet. */
  readonly open?: true
  /** Its ladder leads down: slower is harder. */
  readonly down?: true
  /** Upper end of a goal that is a range, and the end at which the next cold take is played. */
  readonly top?: Tempo
  readonly cold?: Tempo
  /** What the plan counts on (`planningCeiling`); null = nothing reached yet. */
  readonly ceiling: Tempo | null
  /** Highest tempo of a clean cold take. */
  readonly secure?: Tempo | null
  /** At the goal, and cold takes there were clean on two days. */
  readonly ready?: boolean
  /** Days on which the cold take at the goal was clean, since one was not; two at most. */
  readonly cleanColds?: number
  /** 0 = today, null = never. */
  readonly coldDaysAgo?: number | null
  /** Where the next visit begins; null = it looks for its start. */
  readonly next: Tempo | null
  readonly readyBy: string | null
  /** The days of the week on which the player plays; absent = every day. */
  readonly week?: Week
  /** 1; more for what must be ready, less for what can wait. */
  readonly priority: number
  /** The player wants it today. */
  readonly today?: boolean
  /** Too long for a ladder: it is only played through until it is cut. */
  readonly long?: boolean
  /** The whole part as a score has it, never played yet: it is for cutting, not for a day. */
  readonly asRead?: true
  readonly minutesSoFar: number
  /** Natural logarithm of the ceiling over the first one. */
  readonly lnGainSoFar: number
  /** 0 = today, null = never. */
  readonly lastPlayedDaysAgo: number | null
  /** One repetition with count-in and rest. */
  readonly secondsPerRepetition: number
  /** The rung above the ceiling: shortly before the date none beyond it. */
  readonly oneAbove?: Tempo | null
  /** Minutes from where the next visit begins until its ceiling is passed, all clean (`minutesToPass`). */
  readonly minutesToPass?: number | null
}

/** Two neighbors played over their seam, then as one: a ladder of its own. */
export type Seam = {
  readonly key: string
  readonly label: string
  /** Keys of the two sections. */
  readonly of: readonly [string, string]
  readonly next: Tempo | null
  readonly lastPlayedDaysAgo: number | null
}

/** The passage that it belongs to, or is. */
export const keyOfWhole = (w: Pick<Work, 'whole' | 'key'>): string => w.whole?.key ?? w.key

/** A little more than the goal is wanted, so that a cold take there is clean. */
const MARGIN = Math.log(1.03)
const COLDS = 2
/** Gain in ln tempo of a minute of practice before there is a log of one's own, and the minutes that it weighs. */
const USUAL_GAIN = 0.008
const USUAL_MINUTES = 10
/** Until so many minutes are logged, all gains are taken as usual, and the plan says so. */
const ENOUGH_LOG = 30
/** A passage without a date is planned as if it were so many days away. A choice. */
const NO_DATE = 14

/** Where the climb ends: the upper end of a range. */
const endOfClimb = (w: Work): Tempo => w.top ?? w.goal

export const wayOf = (w: Work): Direction => (w.down ? 'down' : 'up')

/** The goal was reached; of a range its upper end. */
export const finished = (w: Work): boolean =>
  w.ceiling !== null && shareOfGoal(w.ceiling, endOfClimb(w), wayOf(w)) >= 1

/** The goal was reached; of a range its lower end, where cold takes begin. */
export const atGoal = (w: Work): boolean =>
  w.ceiling !== null && shareOfGoal(w.ceiling, w.goal, wayOf(w)) >= 1

/** Nothing is left to do for it but to stay so. */
export const isDone = (w: Work): boolean => finished(w) && w.ready === true

/** What it has its place in a day for: neither ready, nor only played through. */
export const isOpen = (w: Work): boolean => !isDone(w) && w.long !== true

/** ln(goal / ceiling), 0 where it is reached; without a ceiling from the typed start. */
export const gapOf = (w: Work): number => {
  const from = w.ceiling ?? w.next
  return Math.max(0, from ? -Math.log(shareOfGoal(from, w.goal, wayOf(w))) : -Math.log(FIND_FROM))
}

/** The same up to the upper end of a range. */
export const fullGap = (w: Work): number =>
  gapOf(w) + (finished(w) ? 0 : Math.log(tempoRatio(endOfClimb(w), w.goal)))

/** ln tempo gained in a minute of practice, drawn toward the usual gain while the log is short. */
export const rateOf = (w: Work): number =>
  (w.lnGainSoFar + USUAL_GAIN * USUAL_MINUTES) / (w.minutesSoFar + USUAL_MINUTES)

/** Whether enough of it was practiced to say how quickly it goes. */
export const isKnown = (w: Work): boolean => w.minutesSoFar >= USUAL_MINUTES

/** Minutes of practice until it can be ready, if its goal were lower by `delta` (ln tempo). */
export const needOf = (w: Work, delta = 0): number => {
  if (isDone(w)) return 0
  const missing = (COLDS - (w.cleanColds ?? 0)) / COLDS
  return (Math.max(0, fullGap(w) - delta) + MARGIN * missing) / rateOf(w)
}

/** Too little is logged to say how quickly this player gains. */
export const assumed = (all: readonly Work[]): boolean =>
  all.reduce((sum, w) => sum + w.minutesSoFar, 0) < ENOUGH_LOG

/**
 * Days on which it can be practiced before its date, this one included; 0 or less on and after the date itself, without
 * end where it has none.
 */
export const daysLeft = (w: Work, date: string): number =>
  w.readyBy === null ? Number.POSITIVE_INFINITY : daysToPlay(date, w.readyBy, w.week)

/** Days for climbing, the last evening among them. */
export const daysToClimb = (w: Work, date: string): number =>
  Math.max(1, daysToPlay(date, w.readyBy ?? dayAfter(date, NO_DATE), w.week))
