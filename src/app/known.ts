import { chained, stretchOf } from '../ladder/chain.ts'
import { type Direction, harder } from '../ladder/direction.ts'
import { type History, historiesOf, type Visit } from '../ladder/history.ts'
import { decodeKey, isEven, joinKey, sectionKey, takeKey } from '../ladder/key.ts'
import type { ColdTake } from '../ladder/ready.ts'
import type { Step } from '../ladder/rungs.ts'
import { type Before, DAY_START, type Joined, joinOpening, type Opening, opening } from '../ladder/start.ts'
import { daysBetween } from '../music/calendar.ts'
import { localDay } from '../music/day.ts'
import type { Result } from '../music/result.ts'
import type { Tempo } from '../music/tempo.ts'
import { journalNotes } from '../store/read-journal.ts'
import { readPractice } from '../store/snapshot.ts'
import type { Target } from '../visit/subject.ts'
import type { Context } from './context.ts'

/** All that the journal knows, by key, and what to say about lines that could not be read. */
export type Known = {
  readonly of: (key: string) => History | undefined
  readonly visits: readonly Visit[]
  readonly notes: readonly string[]
}

export const known = async (ctx: Context): Promise<Known> => {
  const read = await readPractice(ctx.home)
  const all = historiesOf(read.visits)
  return { of: key => all.get(key), visits: read.visits, notes: journalNotes(read) }
}

export const todayOf = (ctx: Context): string => localDay(ctx.clock.wall(), ctx.clock.offset())

/**
 * What is known from before about one key, as the ladder asks for it; null = never judged. A verdict from more than a
 * day ahead was written under a clock that was wrong: it counts as yesterday's, since it cannot be today's.
 */
export const beforeOf = (ctx: Context, h: History | undefined): Before | null => {
  if (!h?.last) return null
  const { tempo, slipped, time, offset } = h.last
  const minutes = (ctx.clock.wall() - Date.parse(time)) / 60_000
  const days = Math.max(0, daysBetween(localDay(time, offset), todayOf(ctx)))
  return {
    ceiling: h.ceiling,
    days: minutes < -24 * 60 ? 1 : days,
    last: { tempo, slipped, minutes },
  }
}

/** Verdicts of this key given earlier today. */
export const earlierToday = (ctx: Context, h: History | undefined): { clean: number; verdicts: number } => {
  const today = (h?.visits ?? []).filter(v => localDay(v.time, v.offset) === todayOf(ctx))
  return {
    clean: today.reduce((n, v) => n + v.clean, 0),
    verdicts: today.reduce((n, v) => n + v.verdicts, 0),
  }
}

/** Every cold take of a key (or every run from the entry), oldest first. */
export const takesOf = (all: Known, key: string, kind: 'cold' | 'entry' = 'cold'): readonly ColdTake[] =>
  (all.of(takeKey(kind, key))?.visits ?? []).flatMap(v =>
    v.last ? [{ day: localDay(v.time, v.offset), tempo: v.last.tempo, clean: !v.last.slipped }] : [],
  )

type Ends = {
  readonly start: Tempo | null
  readonly goal: Tempo
  readonly step: Step
  readonly direction?: Direction
  readonly top?: Tempo
}

/** Where a visit of this key would begin now. */
export const openingNow = (ctx: Context, h: History | undefined, e: Ends): Result<Opening> =>
  opening(e.start, e.goal, e.step, beforeOf(ctx, h), e.direction, DAY_START, e.top ?? null)

/** The same for whatever is to be practiced; joined sections begin from the ceilings of their parts. */
export const openingOf = (
  ctx: Context,
  all: Known,
  t: Ends & Pick<Target, 'key' | 'joins'>,
): Result<Opening> => {
  if (!t.joins) return openingNow(ctx, all.of(t.key), t)
  return joinOpening(joinedParts(all, t.joins), t.start, t.goal, beforeOf(ctx, all.of(t.key)))
}

const joinsIn = new WeakMap<readonly Visit[], readonly (readonly string[])[]>()

/** The ids of all sections that were ever completed as one, in even rhythm. */
export const joinsOf = (all: Known): readonly (readonly string[])[] => {
  const known =
    joinsIn.get(all.visits) ??
    [...new Set(all.visits.filter(v => v.ceiling).map(v => v.key))].flatMap(key => {
      const k = decodeKey(key)
      return k.kind === 'join' && k.take === null && isEven(key) ? [k.ids] : []
    })
  joinsIn.set(all.visits, known)
  return known
}

/** What a join is made of: its sections, or those of them that were played as one before. */
const joinedParts = (all: Known, joins: NonNullable<Target['joins']>): readonly Joined[] => {
  const ids = joins.map(j => j.id)
  const before = joinsOf(all).flatMap(join => stretchOf(join, ids) ?? [])
  return chained(
    ids.length,
    before.filter(s => s.to - s.from < ids.length),
  ).map(({ from, to }) => ({
    ceiling:
      all.of(to - from > 1 ? joinKey(ids.slice(from, to)) : sectionKey(ids[from] as string))?.ceiling ?? null,
    goal: (joins[from] as (typeof joins)[number]).goal,
  }))
}

/** Where it begins tomorrow, after a visit that reached `ceiling`; null = it looks for the start. */
export const openingTomorrow = (
  h: History | undefined,
  reached: Tempo | null,
  here: Tempo,
  e: Ends,
): Tempo | null => {
  const all = [h?.ceiling ?? null, reached].filter(t => t !== null)
  const direction = e.direction ?? 'up'
  const ceiling = all.length > 0 ? all.reduce((a, b) => harder(a, b, direction)) : null
  const last = { tempo: here, slipped: false, minutes: 1440 }
  const next = opening(
    e.start,
    e.goal,
    e.step,
    { ceiling, days: 1, last },
    direction,
    DAY_START,
    e.top ?? null,
  )
  return next.ok && !next.value.find ? (next.value.rungs[next.value.at] ?? null) : null
}
