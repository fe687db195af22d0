import { halfUp, inHalves, parts, sum } from './halves.ts'
import { atGoal, daysLeft, daysToClimb, isDone, isKnown, keyOfWhole, needOf, type Work } from './work.ts'

/** Why something is in the day; a phrase for it is in why.ts. */
export type Why = 'asked' | 'first' | 'away' | 'cold' | 'kept' | 'near' | 'closest' | 'gap'

/** A stay on one stretch of music: half minutes. */
export type Slot = { readonly work: Work; readonly minutes: number; readonly why: Why }

/** A slot is about five minutes, and as long as twelve repetitions, but eight minutes at most. */
export const LEAST = 3
const REPETITIONS = 12
const USUAL = 5
export const LONGEST = 8
/** Each passage comes at least every third day. */
export const EVERY = 3
/** Short turns take so many thirds of the music at most, where nothing is away for longer. */
const TURNS = 2
/** As much as one passage is given before others that can still be ready. */
const MOST = 14
/** What asks for so little and no more of its need is near to being ready, minutes. */
const NEAR_DAYS = 3

const slotLength = (w: Work): number =>
  Math.min(LONGEST, halfUp(Math.max(LEAST, (REPETITIONS * w.secondsPerRepetition) / 60)))

/** Minutes that it asks of this day: nearer dates ask for more. */
const asks = (w: Work, date: string): number => needOf(w) / daysToClimb(w, date)

export const isAway = (w: Work): boolean => (w.lastPlayedDaysAgo ?? EVERY) >= EVERY

/** The days that are left are worth less the further off the date is, and what matters more comes before what matters less. */
const cost = (w: Work, date: string): number => (needOf(w) * daysToClimb(w, date)) / w.priority ** 2

const byAway = (a: Work, b: Work): number =>
  Number(b.today ?? false) - Number(a.today ?? false) ||
  (b.lastPlayedDaysAgo ?? EVERY) - (a.lastPlayedDaysAgo ?? EVERY) ||
  b.priority - a.priority

const whyOf = (w: Work, date: string): Why => {
  if (w.today) return 'asked'
  if (isDone(w)) return 'kept'
  if (w.lastPlayedDaysAgo === null) return 'first'
  if (isAway(w)) return 'away'
  if (atGoal(w)) return 'cold'
  return daysLeft(w, date) <= NEAR_DAYS ? 'near' : isKnown(w) ? 'closest' : 'gap'
}

/**
 * What has a turn today whatever it asks for: what was asked for or is away for three days, then all others, longest away
 * first, as long as short turns for them leave minutes for more.
 */
const haveTurns = (works: readonly Work[], minutes: number): ReadonlySet<Work> => {
  const out = new Set<Work>()
  let used = 0
  for (const w of works.filter(x => x.today || x.lastPlayedDaysAgo !== 0).sort(byAway)) {
    used += slotLength(w)
    if (used * 3 > (w.today || isAway(w) ? 3 : TURNS) * minutes && out.size > 0) break
    out.add(w)
  }
  return out
}

/**
 * Minutes of today. Each has a short turn. Beyond that, what is hardly known has its share by what it lacks; of the others
 * that comes first which asks for least until it is ready, since as many as can be ready are worth more than all of them
 * nearly. What nobody asks for goes to those of today.
 */
const given = (works: readonly Work[], date: string, minutes: number): ReadonlyMap<Work, number> => {
  const first = haveTurns(works, minutes)
  const order = [...works].sort(
    (a, b) => Number(first.has(b)) - Number(first.has(a)) || cost(a, date) - cost(b, date),
  )
  const out = new Map<Work, number>()
  let left = minutes
  const has = (w: Work): number => out.get(w) ?? 0
  const give = (w: Work, m: number): void => {
    const more = Math.min(m, left)
    left -= more
    out.set(w, has(w) + more)
  }
  for (const w of first) give(w, slotLength(w))
  const need = (w: Work): number => needOf(w) * w.priority
  const all = sum(order.map(need))
  for (const w of order.filter(x => !isKnown(x))) {
    const share = (minutes * need(w)) / all
    if (share > has(w) && (out.has(w) || share >= slotLength(w))) give(w, share - has(w))
  }
  for (const w of order.filter(isKnown)) {
    const more = Math.min(MOST, Math.max(slotLength(w), asks(w, date))) - has(w)
    if (!out.has(w) && left < slotLength(w)) break
    if (more > 0) give(w, more)
  }
  if (out.size === 0 && order[0]) give(order[0], minutes)
  const used = sum([...out.values()])
  return new Map([...out].map(([w, m]) => [w, (m * minutes) / used]))
}

/** How many slots: of about five minutes, of eight at most, and not shorter than twelve repetitions. */
const countOf = (w: Work, minutes: number): number =>
  Math.max(
    Math.ceil(minutes / LONGEST),
    Math.min(Math.round(minutes / USUAL), Math.floor(minutes / slotLength(w))),
  )

/**
 * What has most minutes left comes first, never the same twice running while another one is left. Nor does a passage follow
 * right behind a run of the whole of it: `run` = what was just played so, by its keys, the latest last.
 */
const ordered = (all: readonly Slot[][], run: readonly string[]): readonly Slot[] => {
  const out: Slot[] = []
  const minutes = (slots: readonly Slot[]): number => sum(slots.map(s => s.minutes))
  for (;;) {
    const open = all.filter(slots => slots.length > 0)
    if (open.length === 0) return out
    const count = sum(open.map(slots => slots.length))
    const ago = (slots: Slot[]): number => run.lastIndexOf(keyOfWhole((slots[0] as Slot).work))
    const longest = Math.min(...open.map(ago))
    const others =
      out.length === 0
        ? open.filter(slots => ago(slots) === longest)
        : open.filter(slots => slots[0]?.work !== out.at(-1)?.work)
    // One that has as many slots as all others together and one more has to come now, or it will follow itself.
    const pressing = others.find(slots => slots.length * 2 > count)
    const next = pressing ?? (others.length > 0 ? others : open).sort((a, b) => minutes(b) - minutes(a))[0]
    out.push(next?.shift() as Slot)
  }
}

/** The slots of a day in their order; together `minutes`, in half minutes. `run` = what is played as a whole right before. */
export const slotsOf = (
  works: readonly Work[],
  date: string,
  minutes: number,
  run: readonly string[] = [],
): readonly Slot[] => {
  const today = given(works, date, minutes)
  const shares = inHalves([...today.values()])
  const slots = [...today.keys()].flatMap((work, i) => {
    const m = shares[i] as number
    const why = whyOf(work, date)
    return [parts(m, countOf(work, m)).map(x => ({ work, minutes: x, why }))]
  })
  return ordered(slots, run)
}
