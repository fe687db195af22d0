import type { Visit } from '../ladder/history.ts'
import { decodeKey, sameMusic } from '../ladder/key.ts'
import { restOf, stretchesOf } from './cautions.ts'
import { type Asked, dayOf } from './day.ts'
import type { Item, Unplaced } from './item.ts'
import { type DayLine, inOrder, linesOf, type Made, named, placeOf, subject } from './order.ts'
import { EARLY, REST, restIsDue, type Since } from './rests.ts'
import { atGoal, daysLeft, type Seam, type Work } from './work.ts'

/** Less than so many minutes left are no turn any more. */
const LEAST = 2
/** Once a day, whatever else is planned anew. */
const ONCE: ReadonlySet<Item['kind']> = new Set(['cold', 'through', 'run', 'slow', 'entries'])

/** The day as it is now: what is known of its music, what was made of it, and what was played. */
export type UnderWay = {
  readonly works: readonly Work[]
  readonly seams: readonly Seam[]
  readonly made: Made
  readonly today: readonly Visit[]
  /** Milliseconds since 1970, minutes after midnight of the place. */
  readonly now: number
  readonly clock: number
}

/** A line that was ended and is in no plan of this morning: what it was, as far as its name tells. */
const retold = (name: string, { works, seams }: UnderWay): Item | null => {
  const { kind: k, key } = placeOf(name)
  const [w, s] = [works.find(x => x.key === key), seams.find(x => x.key === key)]
  const at = { at: 0, minutes: 0 }
  if (k === 'rest' || k === 'fundamentals') return { kind: k, ...at }
  if (k === 'seam' && s) return { kind: k, key, label: s.label, from: null, ...at }
  if (!w) return null
  if (k === 'section') {
    const { label, ceiling, goal } = w
    const none = { from: null, top: null, toPass: null }
    return { kind: k, key, label, ceiling, goal, again: true, over: 0, why: 'kept', ...none, ...at }
  }
  const take = { key, label: w.label, tempo: w.goal }
  if (k === 'goal') return { kind: k, take, ...at }
  return k === 'silent' ? { kind: k, take: { ...take, tempo: w.ceiling }, times: 1, ...at } : null
}

/** Lines that are over or skipped, first what was planned in the morning. */
const endedOf = (morning: readonly DayLine[], u: UnderWay): readonly DayLine[] => {
  const ended = morning.filter(l => l.state !== 'open')
  const known = new Set(ended.map(l => l.name))
  const minutesOf = (l: DayLine): DayLine => {
    const minutes = u.made.over.find(o => o.name === l.name)?.minutes
    return minutes === undefined ? l : { ...l, item: { ...l.item, minutes } }
  }
  const later = [
    ...u.made.over.map(o => ({ name: o.name, state: 'done' as const, begun: o.at })),
    ...u.made.skipped.map(name => ({ name, state: 'skipped' as const, begun: null })),
  ].flatMap(l => {
    const item = known.has(l.name) ? null : retold(l.name, u)
    return item ? [{ ...l, item }] : []
  })
  return [...ended, ...later].map(minutesOf)
}

/** Music since the last rest, whether it was taken by the clock, by its line, or skipped. */
const sinceOf = (ended: readonly DayLine[], { today, now, clock }: UnderWay): Since => {
  const rests = ended.filter(l => l.item.kind === 'rest')
  const skipped = rests.filter(l => l.state === 'skipped').length
  const taken = Math.max(...rests.flatMap(l => (l.state === 'done' && l.begun !== null ? [l.begun] : [])))
  const music = today.filter(v => decodeKey(v.key).kind !== 'warm-up')
  const after = stretchesOf(music).filter(s => clock - (now - s.from) / 60_000 >= taken)
  const { since, after: due } = restOf(after, now)
  return {
    music: Math.max(0, since - EARLY * skipped),
    rested: rests.length > 0 || due > EARLY,
  }
}

/** Minutes of the day that are gone: what was played, and rests that were taken. */
const goneOf = (ended: readonly DayLine[], today: readonly Visit[]): number => {
  const rests = ended.filter(l => l.item.kind === 'rest' && l.state === 'done')
  return today.reduce((sum, v) => sum + v.seconds, 0) / 60 + rests.reduce((sum, l) => sum + l.item.minutes, 0)
}

/** From so many minutes into the day on, without a gap. */
const oneAfterAnother = (lines: readonly DayLine[], from: number): readonly DayLine[] => {
  let at = from
  return lines.map(l => {
    const item = { ...l.item, at }
    at += item.minutes
    return { ...l, item }
  })
}

/**
 * A day that is under way. What is over or skipped stays as it is; for the minutes that are left it is planned anew, from
 * what is known by now. What was skipped, and what reached its goal today, leaves its minutes to the others. Nothing played
 * and nothing skipped: the plan of the morning.
 */
export const underWay = (items: readonly Item[], asked: Asked, u: UnderWay): readonly DayLine[] => {
  const morning = linesOf(items, u.made, u.today)
  const ended = endedOf(morning, u)
  if (ended.length === 0 && u.today.every(v => v.played === 0)) return morning
  const left = Math.floor((asked.minutes - goneOf(ended, u.today)) * 2) / 2
  if (left < LEAST) return ended
  const was = (task: Unplaced['task']): boolean =>
    ended.some(
      l =>
        l.item.kind === task.kind &&
        subject(l.item) === subject(task) &&
        (ONCE.has(task.kind) || l.state === 'skipped'),
    )
  const skipped = new Set(
    ended.flatMap(l => (l.state === 'skipped' && l.item.kind === 'section' ? [l.item.key] : [])),
  )
  const isOut = (w: Work): boolean =>
    skipped.has(w.key) || (atGoal(w) && u.today.some(v => v.played > 0 && sameMusic(v.key, w.key)))
  const others = u.works.filter(w => !isOut(w))
  const warm = morning.find(l => l.item.kind === 'fundamentals' && l.state === 'open')
  const since = sinceOf(ended, u)
  const rests = restIsDue(since) && left > 2 * REST
  // What has no ladder to climb today can't take what is left; and skipped is skipped, also where nothing else is left.
  const climbs = others.some(w => w.long !== true && daysLeft(w, asked.date) > 0)
  const day = dayOf(climbs ? others : u.works.filter(w => !skipped.has(w.key)), u.seams, {
    ...asked,
    minutes: rests ? left - REST : left,
    fundamentals: warm?.item.minutes ?? 0,
    since: rests ? { music: 0, rested: true } : since,
    without: was,
  })
  const first: readonly Item[] = rests ? [{ kind: 'rest', at: 0, minutes: REST }] : []
  const anew = named(
    [...first, ...day.items],
    ended.map(l => l.name),
  ).map((l): DayLine => ({ ...l, state: 'open', begun: null }))
  return [...ended, ...oneAfterAnother(inOrder(anew, u.made.order), asked.minutes - left)]
}
