import { daysBetween } from '../music/day.ts'
import { type Tempo, tempoRatio } from '../music/tempo.ts'

/** One section (or a passage that is not cut into sections) as the plan sees it. */
export type Work = {
  readonly key: string
  readonly label: string
  /** What it belongs to: after its date one question is asked for all of it. */
  readonly piece: string
  readonly goal: Tempo
  /** Upper end of a goal that is a range, and the end at which the next cold take is played. */
  readonly top?: Tempo
  readonly cold?: Tempo
  /** What the plan counts on (`planningCeiling`); null = nothing reached yet. */
  readonly ceiling: Tempo | null
  /** Highest tempo of a clean cold take. */
  readonly secure?: Tempo | null
  /** Where the next visit begins; null = it looks for its start. */
  readonly next: Tempo | null
  readonly readyBy: string | null
  /** 1; more for what is heard alone, less for what many play. */
  readonly priority: number
  readonly minutesSoFar: number
  /** Natural logarithm of the ceiling over the first one. */
  readonly lnGainSoFar: number
  /** 0 = today, null = never. */
  readonly lastPlayedDaysAgo: number | null
  /** One repetition with count-in and rest. */
  readonly secondsPerRepetition: number
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

/** Without a ceiling: the share of the goal at which a start is looked for. */
const UNKNOWN = 0.6
/** Gain in ln tempo of a minute of practice before there is a log of one's own, and the minutes that it weighs. */
const USUAL_GAIN = 0.008
const USUAL_MINUTES = 10
/** Until so many minutes are logged, all gains are taken as usual, and the plan says so. */
const ENOUGH_LOG = 30
/** A section without a date is planned as if it had this many days. A choice. */
const NO_DATE = 14

export const finished = (w: Work): boolean => w.ceiling !== null && tempoRatio(w.ceiling, w.goal) >= 1

/** ln(goal / ceiling), 0 where it is reached. */
export const gapOf = (w: Work): number =>
  Math.max(0, w.ceiling ? -Math.log(tempoRatio(w.ceiling, w.goal)) : -Math.log(UNKNOWN))

/** ln tempo gained in a minute of practice, drawn toward the usual gain while the log is short. */
export const rateOf = (w: Work): number =>
  (w.lnGainSoFar + USUAL_GAIN * USUAL_MINUTES) / (w.minutesSoFar + USUAL_MINUTES)

/** Minutes of practice until the goal, weighed by how much the section matters. */
export const needOf = (w: Work): number => (w.priority * gapOf(w)) / rateOf(w)

/** Too little is logged to say how quickly this player gains. */
export const assumed = (all: readonly Work[]): boolean =>
  all.reduce((sum, w) => sum + w.minutesSoFar, 0) < ENOUGH_LOG

/** Days on which it can be practiced before its date, this one included; 0 or less on and after the date itself. */
export const daysLeft = (w: Work, date: string): number | null =>
  w.readyBy === null ? null : daysBetween(date, w.readyBy)

/** Days for climbing: the last one before the date is kept for playing through. */
export const daysToClimb = (w: Work, date: string): number =>
  Math.max(1, (daysLeft(w, date) ?? NO_DATE + 1) - 1)
