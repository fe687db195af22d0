import { type Context, must, type Outcome, Stop } from '../app/context.ts'
import { pieceJson, repertoireNow } from '../app/repertoire-rows.ts'
import { ok, problem } from '../music/result.ts'
import { spoken, spokenGoal } from '../music/tempo.ts'
import type { Edits } from '../repertoire/edit.ts'
import { newPassage, piecesCalled } from '../repertoire/new-passage.ts'
import { type Passage, type Piece, shortId } from '../repertoire/piece.ts'
import { repertoire } from '../store/repertoire.ts'
import type { EditTyped } from './edit-options.ts'
import { editsOf } from './edit-typed.ts'
import { aroundOf } from './piece-edit.ts'

/** Stores a passage in the piece of that title, which is begun where there is none. Throws Stop with one sentence. */
export const addPassage = async (
  ctx: Context,
  edits: Edits,
): Promise<{ readonly piece: Piece; readonly passage: Passage }> => {
  const store = repertoire(ctx.home)
  const { pieces } = await store.list()
  const around = { ...(await aroundOf(ctx)), pieces: pieces.map(k => k.piece) }
  const { title, passage } = must(newPassage(edits, around, shortId(ctx.chance)))
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

/** Nothing stands in the lists of a passage that is not there yet. */
const EMPTY: Passage = { id: 'none', name: 'new', meter: '4/4', count: 1, pickup: null, goal: '999' }

/** Adds a passage by options. */
export const pieceAddCommand = async (ctx: Context, title: string, t: EditTyped): Promise<Outcome> => {
  const { passage: name, ...rest } = t
  const typed = must(editsOf(rest, 'passage', EMPTY, () => 'gradino piece edit', await aroundOf(ctx)))
  const fields = { ...typed.fields, title, ...(typeof name === 'string' ? { name } : {}) }
  const { piece, passage } = await addPassage(ctx, { ...typed, fields })
  const now = await repertoireNow(ctx)
  const row = now.rows.find(r => r.id === passage.id)
  const from = row?.next
    ? `${row.finding ? 'looks for its start from' : 'begins at'} ${spoken(row.next)}`
    : ''
  return {
    lines: [
      `${piece.title}, ${row?.place}: ${row?.music}, goal ${row && spokenGoal(row.goal, row.top)}; the first visit ${from}.`,
      `To practice: gradino practice "${piece.title}/${passage.name}"`,
      ...now.notes,
    ],
    json: pieceJson(now, piece, [passage]),
  }
}
