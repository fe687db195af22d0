import { historiesOf } from '../ladder/history.ts'
import { DAY_MINUTES, daysBetween, localDay } from '../music/day.ts'
import { type Asked, type Day, dayOf } from '../plan/day.ts'
import { daysOf } from '../plan/diary-days.ts'
import { chosen, type Load, type LoadChoice } from '../plan/load.ts'
import type { Seam, Work } from '../plan/work.ts'
import { partsOf, type Subject, seamsOf, worksOf } from '../plan/works.ts'
import { isOpen, type Piece } from '../repertoire/piece.ts'
import type { DayFile } from '../store/day-file.ts'
import { type Offer, offersOf } from '../visit/joining.ts'
import type { Context } from './context.ts'
import { instantOf, type Now, type Practiced, todayOf } from './now.ts'
import { noTempoYet } from './words.ts'

/** Minutes after midnight of the place, whole. */
export const clockNow = (ctx: Context): number => {
  const local = ctx.clock.wall() / 60_000 + ctx.clock.offset()
  return Math.ceil(local) % (24 * 60)
}

/** Which piece a key belongs to. */
export const titlesOf = (works: readonly Work[], seams: readonly Seam[]): ReadonlyMap<string, string> => {
  const titles = new Map(works.map(w => [w.key, w.piece]))
  for (const s of seams) titles.set(s.key, titles.get(s.of[0]) ?? '')
  return titles
}

/** Everything that was played, but nothing of a day or after it. */
const before = (all: Practiced, day: string): Practiced => {
  const visits = all.visits.filter(v => localDay(v.time, v.offset) < day)
  return { ...all, ...historiesOf(visits) }
}

export type Planned = {
  readonly all: Practiced
  readonly parts: readonly Subject[]
  readonly works: readonly Work[]
  readonly seams: readonly Seam[]
  /** The neighbors of the seams. */
  readonly offers: readonly Offer[]
  readonly day: Day
  /** What the day was made from. */
  readonly asked: Asked
  /** Whether the goals as they are can be reached, and what the player chose where they can't. */
  readonly load: Load | null
  readonly choice: LoadChoice | null
  /** The nearest date ahead. */
  readonly nearest: string | null
  /** Which piece a key belongs to; empty where there is only one. */
  readonly pieceOf: (key: string) => string
  readonly notes: readonly string[]
}

/**
 * The plan of a day from the repertoire and the journal; null where there is nothing to plan. `morning`: as the journal
 * was before that day, so that the plan of a day that is under way stays what it was.
 */
export const planOf = (
  ctx: Context,
  now: Now,
  o: {
    readonly date: string
    readonly minutes: number
    readonly morning: boolean
    readonly made: Pick<DayFile, 'wanted' | 'choice'>
  },
): Planned | { readonly day: null; readonly notes: readonly string[] } => {
  const { date, minutes } = o
  const { practiced: read, kept, damaged } = now
  const all = o.morning ? before(read, date) : read
  const notes = [...damaged, ...all.notes]
  const parts = partsOf(
    all,
    kept.map(k => k.piece),
  )
  if (parts.length === 0) return { day: null, notes }
  const wanted = new Set(parts.filter(p => o.made.wanted.includes(p.passage.id)).map(p => p.ladder.key))
  const works = worksOf(all, parts, date, instantOf(ctx)).map(w =>
    wanted.has(w.key) ? { ...w, today: true } : w,
  )
  notes.push(...kept.flatMap(k => asks(k.piece)))
  if (works.length === 0) return { day: null, notes }
  const seams = seamsOf(all, parts, date, instantOf(ctx))
  const played = daysOf(all.visits)
    .filter(d => d.date < date)
    .map(d => ({ day: d.date, minutes: d.seconds / 60 }))
  const nearest = works
    .flatMap(w => (w.readyBy !== null && daysBetween(date, w.readyBy) >= 0 ? [w.readyBy] : []))
    .sort()[0]
  const titles = titlesOf(works, seams)
  const light = now.settings.now().lastEvening === 'light'
  const asked = { date, minutes, played, light }
  const choice = o.made.choice?.kind === 'later' ? null : o.made.choice
  const several = new Set(works.map(w => w.piece)).size > 1
  return {
    all: read,
    parts,
    works,
    seams,
    offers: kept.flatMap(({ piece }) => piece.passages.flatMap(p => offersOf(all, piece, p, todayOf(ctx)))),
    day: dayOf(chosen(works, choice), seams, asked),
    asked,
    load: dayOf(works, seams, asked).load,
    choice,
    nearest: nearest ?? null,
    pieceOf: key => (several ? (titles.get(key) ?? '') : ''),
    notes,
  }
}

/** What a piece that was read from a score still needs from the player. */
const asks = (piece: Piece): readonly string[] => [
  ...(isOpen(piece) ? [noTempoYet(piece.title)] : []),
  ...(piece.passages.every(p => p.whole && !p.sections?.length) && piece.passages.length > 0
    ? [
        `${piece.title} is a whole part. Cut it: gradino piece split "${piece.title}/${piece.passages[0]?.name}"`,
      ]
    : []),
]

/** What the player made of today, with the minutes there are: those of today, else the usual ones. */
export const madeToday = (ctx: Context, { day, settings }: Now): DayFile => {
  const date = todayOf(ctx)
  if (day?.date === date) return day
  return {
    date,
    minutes: settings.now().minutes ?? DAY_MINUTES.usual,
    order: [],
    skipped: [],
    over: [],
    asked: day?.asked ?? [],
    wanted: [],
    choice: day?.choice ?? null,
  }
}
