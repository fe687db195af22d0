import { dayAt, daysBetween, type Instant, localDay } from '../music/day.ts'
import type { Result } from '../music/result.ts'
import type { Tempo } from '../music/tempo.ts'
import { chained, stretchOf } from './chain.ts'
import { compareHard, type Direction, harder } from './direction.ts'
import type { Histories, History, Visit } from './history.ts'
import { decodeKey, isEven, joinKey, sectionKey, takeKey } from './key.ts'
import { type ColdTake, readySince, secure } from './ready.ts'
import type { Rules } from './rules.ts'
import type { RungStep } from './rungs.ts'
import { type Before, type Joined, joinOpening, type Opening, opening } from './start.ts'

/** One ladder: whose it is, where it leads, and how it is climbed. */
export type Ladder = {
  /** A text of ladder/key.ts. */
  readonly key: string
  readonly start: Tempo | null
  readonly goal: Tempo
  /** Upper end of a goal that is a range. */
  readonly top?: Tempo
  readonly step: RungStep
  readonly direction: Direction
  readonly rules: Rules
  /** Share of the ceiling at which a day begins, where it is not the usual one. */
  readonly dayStart?: number
  /** The passage that a section is cut from: before it has a history, it begins from what the passage has reached. */
  readonly within?: { readonly key: string; readonly goal: Tempo }
  /** The sections that are played as one here, in the order of the music, each with its own goal. */
  readonly joins?: readonly { readonly id: string; readonly goal: Tempo }[]
}

/** Where a ladder stands: the one answer for every screen, page, command and plan. */
export type Standing = Pick<Ladder, 'key' | 'goal' | 'rules'> & {
  /** Upper end of a goal that is a range. */
  readonly top: Tempo | null
  /** The hardest tempo whose rung was completed. */
  readonly ceiling: Tempo | null
  /** How the next visit opens; not ok where no ladder can be made. */
  readonly opening: Result<Opening>
  /** Where the next visit begins; `finding` = it looks for the start from there. Null where no ladder can be made. */
  readonly next: Tempo | null
  readonly finding: boolean
  /** Every cold take, oldest first. */
  readonly takes: readonly ColdTake[]
  /** The hardest tempo of a clean cold take. */
  readonly secure: Tempo | null
  readonly ready: boolean
  /** The day since which it is ready; null = it is not. */
  readonly readySince: string | null
}

/**
 * What is known from before about one key, as the ladder asks for it; null = never judged. A verdict from more than a
 * day ahead was written under a clock that was wrong: it counts as yesterday's, since it cannot be today's.
 */
const beforeOf = (h: History | undefined, now: Instant): Before | null => {
  if (!h?.last) return null
  const { tempo, slipped, time, offset } = h.last
  const minutes = (now.wall - Date.parse(time)) / 60_000
  const days = Math.max(0, daysBetween(localDay(time, offset), dayAt(now)))
  return {
    ceiling: h.ceiling,
    days: minutes < -24 * 60 ? 1 : days,
    last: { tempo, slipped, minutes },
  }
}

/** Every cold take of a key (or every run from the entry), oldest first. */
export const takesOf = (all: Histories, key: string, kind: 'cold' | 'entry' = 'cold'): readonly ColdTake[] =>
  (all.of(takeKey(kind, key))?.visits ?? []).flatMap(v =>
    v.last ? [{ day: localDay(v.time, v.offset), tempo: v.last.tempo, clean: !v.last.slipped }] : [],
  )

const joinsIn = new WeakMap<readonly Visit[], readonly (readonly string[])[]>()

/** The ids of all sections that were ever completed as one, in even rhythm. */
export const joinsOf = (all: Histories): readonly (readonly string[])[] => {
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
const joinedParts = (all: Histories, joins: NonNullable<Ladder['joins']>): readonly Joined[] => {
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

/** Where a visit begins after what is known from before; joined sections begin from the ceilings of their parts. */
const openingAfter = (l: Ladder, all: Histories, before: Before | null): Result<Opening> => {
  const reached = !before && l.within ? (all.of(l.within.key)?.ceiling ?? null) : null
  const parts =
    reached && l.within ? [{ ceiling: reached, goal: l.within.goal }] : l.joins && joinedParts(all, l.joins)
  return parts && l.direction === 'up'
    ? joinOpening(parts, l.start, l.goal, before, l.step, l.top ?? null, l.dayStart)
    : opening(l.start, l.goal, l.step, before, l.direction, l.dayStart, l.top ?? null)
}

/** Where a visit begins now, or so many days ahead. */
export const openingOf = (l: Ladder, all: Histories, now: Instant, ahead = 0): Result<Opening> => {
  const before = beforeOf(all.of(l.key), now)
  return openingAfter(l, all, before && { ...before, days: before.days + ahead })
}

/** Where it begins tomorrow, after a visit that reached `ceiling` and stands at `here`; null = it looks for the start. */
export const openingTomorrow = (
  l: Ladder,
  all: Histories,
  reached: Tempo | null,
  here: Tempo,
): Tempo | null => {
  const ceilings = [all.of(l.key)?.ceiling ?? null, reached].filter(t => t !== null)
  const ceiling = ceilings.length > 0 ? ceilings.reduce((a, b) => harder(a, b, l.direction)) : null
  const next = openingAfter(l, all, {
    ceiling,
    days: 1,
    last: { tempo: here, slipped: false, minutes: 1440 },
  })
  return next.ok && !next.value.find ? (next.value.rungs[next.value.at] ?? null) : null
}

/** The day on which the goal was first completed. */
const reachedOn = (h: History | undefined, goal: Tempo, direction: Direction): string | null =>
  (h?.visits ?? [])
    .filter(v => v.ceiling && compareHard(v.ceiling, goal, direction) >= 0)
    .map(v => localDay(v.time, v.offset))
    .sort()[0] ?? null

/** Where a ladder stands, now or as it will stand so many days ahead if nothing is played until then. */
export const standing = (l: Ladder, all: Histories, now: Instant, ahead = 0): Standing => {
  const history = all.of(l.key)
  const takes = takesOf(all, l.key)
  const opens = openingOf(l, all, now, ahead)
  const top = l.top ?? null
  const since = readySince(reachedOn(history, l.goal, l.direction), l.goal, takes, top, l.direction)
  return {
    key: l.key,
    goal: l.goal,
    rules: l.rules,
    top,
    ceiling: history?.ceiling ?? null,
    opening: opens,
    next: opens.ok ? (opens.value.rungs[opens.value.at] ?? null) : null,
    finding: opens.ok && opens.value.find,
    takes,
    secure: secure(takes, l.direction),
    ready: since !== null,
    readySince: since,
  }
}

/** Verdicts of a key on one day. */
export const verdictsOn = (h: History | undefined, day: string): { clean: number; verdicts: number } => {
  const here = (h?.visits ?? []).filter(v => localDay(v.time, v.offset) === day)
  return {
    clean: here.reduce((n, v) => n + v.clean, 0),
    verdicts: here.reduce((n, v) => n + v.verdicts, 0),
  }
}
