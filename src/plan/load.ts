import { markBelow, shareOf } from '../ladder/start.ts'
import { frac, toNumber } from '../music/fraction.ts'
import { slower, type Tempo } from '../music/tempo.ts'
import { sum } from './halves.ts'
import { EVERY, LEAST } from './slots.ts'
import { daysToClimb, finished, fullGap, rateOf, type Work } from './work.ts'

/** Whether what has a date can reach its goals by then in the minutes there are. */
export type Load = {
  /** Minutes needed over minutes there are, as far as the log tells. */
  readonly load: number
  /** What came of it in weeks that were played by invented learners: nearly always enough, open, hardly ever enough. */
  readonly word: 'enough' | 'open' | 'over'
  /** Where it is hardly ever enough: three ways out, each with its number. */
  readonly offers: Offers | null
}

type Offers = {
  /** Minutes a day, fundamentals and rests included, in which every goal could be reached; null = more than twice as many. */
  readonly minutes: number | null
  /** Where all goals are lowered alike, this share of each can be reached in the minutes there are. */
  readonly share: number
  /** As many as can be ready, what asks for least first. */
  readonly ready: readonly { readonly key: string; readonly label: string }[]
  /** All others come each third day, and would stand here on the date. */
  readonly lower: readonly { readonly key: string; readonly label: string; readonly tempo: Tempo }[]
}

/** What the player chose where it is too much; more minutes are simply a longer day. */
export type LoadChoice = { readonly kind: 'some' } | { readonly kind: 'lower'; readonly share: number }

/**
 * Up to the first of these all goals were reached nearly always, above the second hardly ever; between them nobody can say.
 * While nothing is logged how quickly a player learns is a guess, so what can be said is less. From weeks of invented
 * learners (docs/plan.md).
 */
const BOUNDS = { known: [0.35, 1.6], guessed: [0.35, 2.2] } as const
/** Minutes on all of it until the log says more than a guess. */
const ENOUGH_LOG = 30
/** So many times the minutes that there are nobody is told to play: that would be a jump. A choice. */
const MOST_MORE = 2

/** Minutes of climbing a day that it needs, if its goal were lower by `delta` (ln tempo). */
const daily = (w: Work, date: string, delta = 0): number =>
  Math.max(0, fullGap(w) - delta) / rateOf(w) / daysToClimb(w, date)

const total = (all: readonly Work[], date: string, delta = 0): number =>
  sum(all.map(w => daily(w, date, delta)))

/** By how much all goals have to be lowered (ln tempo) to fit into `minutes` of climbing a day. */
const allLower = (all: readonly Work[], date: string, minutes: number): number => {
  let [low, high] = [0, Math.max(...all.map(fullGap))]
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2
    if (total(all, date, middle) > minutes) low = middle
    else high = middle
  }
  return high
}

/** As many as can be ready, what asks for least first; the others have a short turn each third day. */
const asMany = (all: readonly Work[], date: string, minutes: number): Pick<Offers, 'ready' | 'lower'> => {
  const order = [...all].sort((a, b) => b.priority - a.priority || daily(a, date) - daily(b, date))
  const turn = LEAST / EVERY
  const ready: Work[] = []
  let left = minutes - turn * order.length
  for (const w of order) {
    const more = daily(w, date) - turn
    if (more > left) break
    left -= Math.max(0, more)
    ready.push(w)
  }
  const stands = (w: Work): Tempo => {
    const gain = Math.min(fullGap(w), rateOf(w) * turn * daysToClimb(w, date))
    return slower(w.goal, markBelow(w.goal, Math.exp(gain - fullGap(w))))
  }
  const name = ({ key, label }: Work) => ({ key, label })
  return {
    ready: ready.map(name),
    lower: order.filter(w => !ready.includes(w)).map(w => ({ ...name(w), tempo: stands(w) })),
  }
}

/** The fewest minutes a day of which enough are left beside fundamentals, joining and rests; null = more than `most`. */
const enoughFor = (climbing: number, most: number, beside: (minutes: number) => number): number | null => {
  let minutes = Math.ceil(climbing)
  while (minutes <= most && minutes - beside(minutes) < climbing) minutes++
  return minutes <= most ? minutes : null
}

/** Of what has a date ahead. `beside` = minutes of a day of so many that are not for climbing. */
export const loadOf = (
  works: readonly Work[],
  date: string,
  day: { readonly minutes: number; readonly beside: (minutes: number) => number },
): Load | null => {
  const all = works.filter(w => w.readyBy !== null && w.readyBy > date && !finished(w) && w.long !== true)
  if (all.length === 0) return null
  const minutes = Math.max(0, day.minutes - day.beside(day.minutes))
  const load = total(all, date) / minutes
  const logged = sum(works.map(w => w.minutesSoFar))
  const [enough, over] = BOUNDS[logged < ENOUGH_LOG ? 'guessed' : 'known']
  const word = load <= enough ? 'enough' : load <= over ? 'open' : 'over'
  if (word !== 'over') return { load, word, offers: null }
  return {
    load,
    word,
    offers: {
      minutes: enoughFor(total(all, date), MOST_MORE * day.minutes, day.beside),
      share: Math.exp(-allLower(all, date, minutes)),
      ...asMany(all, date, minutes),
    },
  }
}

/** The goal made so much easier: lower, of a ladder that leads down faster; in whole beats, on the easier side. */
const eased = (w: Work, share: number): Tempo => {
  const to = shareOf(w.goal, w.down ? 1 / share : share)
  const bpm = toNumber(to.bpm)
  return bpm < SLOW
    ? to
    : { unit: to.unit, bpm: frac(w.down ? Math.ceil(bpm - 1e-9) : Math.floor(bpm + 1e-9)) }
}
/** Slower than that tempos keep their decimals. */
const SLOW = 20

/** What is planned after the player's choice: all goals a little lower, or as they are. */
export const chosen = (works: readonly Work[], choice: LoadChoice | null): readonly Work[] => {
  if (choice?.kind !== 'lower') return works
  return works.map(w => {
    const { top: _, ...one } = w
    return { ...one, goal: eased(w, choice.share) }
  })
}

/** Minutes that were played on a day of practice. */
export type PlayedDay = { readonly day: string; readonly minutes: number }

/** More than the player is used to: the mean of the last days, and what is planned. */
export type Jump = { readonly usual: number; readonly planned: number }

const DAYS = 7
/** Sudden increases of load are what orchestra players name first (Chan and Ackermann 2014); the numbers are a choice. */
const RATIO = 1.3
const EXTRA = 15

/** A caution only after seven logged days, and only where it is both 1.3 times the mean and 15 minutes more. */
export const jumpOf = (planned: number, logged: readonly PlayedDay[]): Jump | null => {
  if (logged.length < DAYS) return null
  const last = [...logged].sort((a, b) => a.day.localeCompare(b.day)).slice(-DAYS)
  const usual = sum(last.map(d => d.minutes)) / DAYS
  return planned > RATIO * usual && planned > usual + EXTRA ? { usual, planned } : null
}
