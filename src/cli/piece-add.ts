import { type Context, must, type Outcome, Stop } from '../app/context.ts'
import { todayOf } from '../app/known.ts'
import { pieceJson, repertoireNow } from '../app/repertoire-rows.ts'
import { ok, problem } from '../music/result.ts'
import { spoken } from '../music/tempo.ts'
import { type Draft, piecesCalled, readDraft } from '../repertoire/draft.ts'
import { type Passage, type Piece, shortId } from '../repertoire/piece.ts'
import { repertoire } from '../store/repertoire.ts'

/** `gradino piece add`, as typed. */
export type PieceTyped = {
  readonly passage?: string
  readonly in?: string
  readonly measures?: string
  readonly meter?: string
  readonly pickup?: string
  readonly start?: string
  readonly goal?: string
  readonly readyBy?: string
  readonly note?: string
}

/** Stores a passage in the piece of that title, which is begun where there is none. Throws Stop with one sentence. */
export const addPassage = async (
  ctx: Context,
  draft: Draft,
): Promise<{ readonly piece: Piece; readonly passage: Passage }> => {
  const store = repertoire(ctx.home)
  const { pieces } = await store.list()
  const around = { today: todayOf(ctx), pieces: pieces.map(k => k.piece) }
  const { title, passage } = must(readDraft(draft, around, shortId(ctx.chance)))
  const called = piecesCalled(title, around.pieces)
  const ids = called.map(p => p.id).join(', ')
  must(called.length > 1 ? problem('title', title, `one of ${ids} here, since two pieces have it`) : ok(null))
  const kept = pieces.find(k => k.piece === called[0])
  const piece: Piece = kept
    ? { ...kept.piece, passages: [...kept.piece.passages, passage] }
    : { v: 1, id: shortId(ctx.chance), title, passages: [passage] }
  const stored = await store.save(piece, kept?.seen ?? null)
  if (!stored.ok) throw new Stop(1, stored.message)
  return { piece, passage }
}

/** Adds a passage by options. */
export const pieceAddCommand = async (ctx: Context, title: string, t: PieceTyped): Promise<Outcome> => {
  const { in: place, ...rest } = t
  const { piece, passage } = await addPassage(ctx, { title, place, ...rest })
  const now = await repertoireNow(ctx)
  const row = now.rows.find(r => r.id === passage.id)
  const from = row?.next
    ? `${row.finding ? 'looks for its start from' : 'begins at'} ${spoken(row.next)}`
    : ''
  return {
    lines: [
      `${piece.title}, ${row?.place}: ${row?.music}, goal ${row && spoken(row.goal)}; the first visit ${from}.`,
      `To practice: gradino practice "${piece.title}/${passage.name}"`,
      ...now.notes,
    ],
    json: pieceJson(now, piece, [passage]),
  }
}
