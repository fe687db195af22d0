import { standing } from '../ladder/standing.ts'
import { daysBetween } from '../music/day.ts'
import { stretchWords } from '../music/place.ts'
import { count } from '../music/words.ts'
import { ladderOf, musicOf } from '../repertoire/ladder-of.ts'
import { isOpen, type Passage, type Piece, type Section } from '../repertoire/piece.ts'
import type { Listing } from '../screens/home/reduce.ts'
import type { LadderRow, PassageRow } from '../screens/home/row.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import { offerName, offersOf, offerText } from '../visit/joining.ts'
import { placeText } from '../visit/subject.ts'
import type { Context } from './context.ts'
import { instantOf, type Practiced as Journal, type Now, readPracticed, todayOf } from './now.ts'

/** The repertoire with what the journal knows of each passage, and what to say about files that could not be read. */
export type Repertoire = Listing & {
  readonly kept: readonly Kept[]
  readonly notes: readonly string[]
  readonly practiced: Journal
}

const measuresText = (p: Passage): string =>
  `${count(p.count, 'measure')} of ${p.meter}${p.pickup ? `, pick-up ${p.pickup.replaceAll('-', ' ')}` : ''}`

const partOf = (ctx: Context, all: Journal, piece: Piece, p: Passage, s: Section | null): LadderRow => {
  const { goal, top, ceiling, secure, ready, next, finding } = standing(
    ladderOf(p, s ? [s] : [], all.usual),
    all,
    instantOf(ctx),
  )
  return {
    id: s?.id ?? p.id,
    name: `${piece.id}/${p.name}${s ? `/${s.name}` : ''}`,
    place: s ? `section ${s.name}, ${stretchWords(s)}` : placeText(p),
    goal,
    ...(top ? { top } : {}),
    ...(isOpen(piece) ? { open: true } : {}),
    ceiling,
    secure,
    ready,
    next,
    finding,
  }
}

const rowOf = (ctx: Context, all: Journal, piece: Piece, p: Passage): PassageRow => {
  const readyBy = p.readyBy ?? piece.readyBy ?? null
  const [offer] = offersOf(all, piece, p, todayOf(ctx))
  return {
    ...partOf(ctx, all, piece, p, null),
    piece: piece.title,
    music: measuresText(p),
    note: p.note ?? '',
    readyBy,
    days: readyBy === null ? null : daysBetween(todayOf(ctx), readyBy),
    start: musicOf(p).start,
    ...(offer ? { join: { says: offerText(offer), name: offerName(offer) } } : {}),
    sections: (p.sections ?? []).map(s => partOf(ctx, all, piece, p, s)),
  }
}

/** From what is known already. */
export const repertoireOf = (
  ctx: Context,
  { practiced: all, kept, damaged: notes }: Pick<Now, 'practiced' | 'kept' | 'damaged'>,
): Repertoire => {
  const pieces = kept.map(k => k.piece)
  return {
    rows: pieces.flatMap(piece => piece.passages.map(p => rowOf(ctx, all, piece, p))),
    around: { today: todayOf(ctx), pieces },
    kept,
    notes: [...notes, ...all.notes],
    practiced: all,
  }
}

/** Throws StoreError when the folders cannot be read. */
export const repertoireNow = async (ctx: Context): Promise<Repertoire> => {
  const [{ pieces: kept, notes: damaged }, all] = await Promise.all([
    repertoire(ctx.home).list(),
    readPracticed(ctx),
  ])
  return repertoireOf(ctx, { practiced: all, kept, damaged })
}

const passageJson = (r: PassageRow, p: Passage) => ({
  id: p.id,
  name: p.name,
  place: p.measures ?? null,
  meter: p.meter,
  measures: p.count,
  pickup: p.pickup,
  start: p.start ?? null,
  goal: p.goal,
  goalTop: p.goalTop ?? null,
  ceiling: r.ceiling,
  secure: r.secure,
  ready: r.ready,
  next: r.next,
  finding: r.finding,
  readyBy: r.readyBy,
  days: r.days,
  join: r.join?.says ?? null,
  note: p.note ?? null,
})

/** A piece for programs, with all its passages or with some of them. */
export const pieceJson = (now: Repertoire, piece: Piece, only: readonly Passage[] = piece.passages) => ({
  id: piece.id,
  title: piece.title,
  sure: piece.sure ?? null,
  passages: only.flatMap(p => {
    const row = now.rows.find(r => r.id === p.id)
    return row ? [passageJson(row, p)] : []
  }),
})
