import type { Visit } from '../ladder/history.ts'
import { dayAt, type Instant, localDay } from '../music/day.ts'
import { firstThing, type Note, painToday } from '../repertoire/note.ts'
import { LATER, SOONEST } from './rests.ts'
import { cautionLines, PAIN_TEXT } from './words.ts'

/** So many minutes without playing are a rest; a little less than five, since a hand is on the clock. A choice. */
const A_REST = 4

/** A stretch of playing, milliseconds since 1970. */
export type Playing = { readonly from: number; readonly to: number }

/** The stretches of visits; what was not judged has no last verdict and counts the seconds that were played. */
export const stretchesOf = (visits: readonly Visit[]): readonly Playing[] =>
  visits
    .filter(v => v.played > 0)
    .map(v => {
      const from = Date.parse(v.time)
      const last = v.last ? Date.parse(v.last.time) : from
      return { from, to: Math.max(from + v.seconds * 1000, last) }
    })
    .sort((a, b) => a.from - b.from)

/** Minutes since the last rest, after how many one is suggested, and whether that is now. */
export type Rest = { readonly since: number; readonly after: number; readonly now: boolean }

/**
 * Of today's stretches, at the end of a slot. The first rest of a sitting comes early, the others once in each half hour;
 * the sitting and the day begin anew after a rest that was long enough for it (half an hour).
 */
export const restOf = (stretches: readonly Playing[], now: number): Rest => {
  let [begun, end, rested] = [now, Number.NEGATIVE_INFINITY, false]
  for (const s of [...stretches, { from: now, to: now }]) {
    const gap = (s.from - end) / 60_000
    if (gap >= A_REST) {
      begun = s.from
      rested = gap < SITTING
    }
    end = Math.max(end, s.to)
  }
  const since = Math.max(0, (now - begun) / 60_000)
  const after = rested ? LATER : SOONEST
  return { since, after, now: since >= after }
}

/** After so many minutes away it is a new sitting. A choice. */
const SITTING = 30

/** What is said at the end of a visit and on the first screen: after a note of pain today only to stop. */
export const cautionsOf = (
  visits: readonly Visit[],
  notes: readonly Note[],
  now: Instant,
): { readonly pain: boolean; readonly lines: readonly string[] } => {
  const today = dayAt(now)
  if (painToday(notes, today)) return { pain: true, lines: [PAIN_TEXT] }
  const minutes = new Map<string, number>()
  for (const v of visits) {
    const day = localDay(v.time, v.offset)
    minutes.set(day, (minutes.get(day) ?? 0) + v.seconds / 60)
  }
  const logged = [...minutes].filter(([day]) => day !== today).map(([day, m]) => ({ day, minutes: m }))
  const here = visits.filter(v => localDay(v.time, v.offset) === today)
  const rest = restOf(stretchesOf(here), now.wall)
  return { pain: false, lines: cautionLines(rest, minutes.get(today) ?? 0, logged) }
}

/** What is said before the first press of a visit: pain that was noted today, or what was to come first with this music. */
export const firstLines = (notes: readonly Note[], today: string, key: string): readonly string[] => {
  if (painToday(notes, today)) return [PAIN_TEXT]
  return firstThing(notes, today)
    .filter(n => n.key === key)
    .map(n => `First: ${n.text}`)
}

/** On the first screen of a day, until it is done: what belongs to something is done when that was played. */
export const firstOfDay = (
  notes: readonly Note[],
  today: string,
  played: (key: string) => boolean,
): readonly string[] =>
  firstThing(notes, today)
    .filter(n => n.key === undefined || !played(n.key))
    .map(n => `First: ${n.text}`)
