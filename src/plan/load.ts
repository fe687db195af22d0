import { shareOf } from '../ladder/start.ts'
import type { Tempo } from '../music/tempo.ts'
import { daysToClimb, finished, gapOf, needOf, rateOf, type Work } from './work.ts'

/** Whether the sections can reach their goals by their dates in the minutes there are. */
export type Load = {
  /** Minutes needed over minutes there are. */
  readonly load: number
  readonly word: 'relaxed' | 'tight' | 'over'
  /** Where it is too much: three ways out, each with its number. */
  readonly offers: Offers | null
}

type Offers = {
  /** Minutes a day, warm-up, joining and rests included, in which every goal could be reached. */
  readonly minutes: number
  /** Where all goals are lowered alike, this share of each can be reached in the minutes there are. */
  readonly share: number
  /** Or these stay below their goals, at the tempos given, and all others reach theirs. */
  readonly lower: readonly { readonly key: string; readonly label: string; readonly tempo: Tempo }[]
}

const RELAXED = 0.8
const TIGHT = 1.1

/** Minutes of climbing a day that a section needs, if its goal were lower by `delta` (ln tempo). */
const daily = (w: Work, date: string, delta = 0): number =>
  (w.priority * Math.max(0, gapOf(w) - delta)) / rateOf(w) / daysToClimb(w, date)

const total = (all: readonly Work[], date: string, delta = 0): number =>
  all.reduce((sum, w) => sum + daily(w, date, delta), 0)

/** By how much all goals have to be lowered (ln tempo) to fit into `minutes` of climbing a day. */
const allLower = (all: readonly Work[], date: string, minutes: number): number => {
  let [low, high] = [0, Math.max(...all.map(gapOf))]
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2
    if (total(all, date, middle) > minutes) low = middle
    else high = middle
  }
  return high
}

/** What stays lower so that the others fit: what matters least first, and of that what asks for most. */
const someLower = (all: readonly Work[], date: string, minutes: number): Offers['lower'] => {
  const order = [...all].sort((a, b) => a.priority - b.priority || needOf(b) - needOf(a))
  let over = total(all, date) - minutes
  const out: Offers['lower'][number][] = []
  for (const w of order) {
    if (over <= 1e-9) break
    const asks = daily(w, date)
    const left = Math.max(0, asks - over)
    const delta = gapOf(w) * (1 - (asks === 0 ? 0 : left / asks))
    out.push({ key: w.key, label: w.label, tempo: shareOf(w.goal, Math.exp(-delta)) })
    over -= asks - left
  }
  return out
}

/** The fewest minutes a day of which enough are left beside warm-up, joining and rests. */
const minutesFor = (climbing: number, beside: (minutes: number) => number): number => {
  let minutes = Math.ceil(climbing)
  while (minutes - beside(minutes) < climbing && minutes < 24 * 60) minutes++
  return minutes
}

/** Of the sections with a date. `beside` = minutes of a day of so many that are not for climbing. */
export const loadOf = (
  works: readonly Work[],
  date: string,
  day: { readonly minutes: number; readonly beside: (minutes: number) => number },
): Load | null => {
  const all = works.filter(w => w.readyBy !== null && w.readyBy > date && !finished(w))
  const minutes = day.minutes - day.beside(day.minutes)
  if (all.length === 0) return null
  const load = minutes > 0 ? total(all, date) / minutes : Number.POSITIVE_INFINITY
  const word = load <= RELAXED ? 'relaxed' : load <= TIGHT ? 'tight' : 'over'
  if (word !== 'over') return { load, word, offers: null }
  return {
    load,
    word,
    offers: {
      minutes: minutesFor(total(all, date), day.beside),
      share: Math.exp(-allLower(all, date, Math.max(0, minutes))),
      lower: someLower(all, date, Math.max(0, minutes)),
    },
  }
}
