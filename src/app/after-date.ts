import { dayText } from '../music/day-words.ts'
import { attemptLater, failed, type Need, ok, type Result } from '../music/result.ts'
import type { Question } from '../plan/dates.ts'
import { editPiece } from '../repertoire/edit.ts'
import type { Piece } from '../repertoire/piece.ts'
import type { Answers } from '../screens/today/after.ts'
import { addNotes } from '../store/notes.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import type { Context } from './context.ts'
import { aroundOf, storeEdit } from './edit-piece.ts'
import { type Practiced, todayOf } from './now.ts'
import { setTrueTempo } from './true-tempo.ts'
import { GONE, keptText } from './words.ts'

/** One of the pieces as it is kept now. */
const keptNow = async (ctx: Context, id: string): Promise<Result<Kept>> => {
  const found = (await repertoire(ctx.home).list()).pieces.find(k => k.piece.id === id)
  return found ? ok(found) : failed(GONE)
}

/** The next date for the piece; passages whose own date is past have the piece's from now on. */
const setDate = async (
  ctx: Context,
  all: Practiced,
  piece: Piece,
  next: string,
  need: Need,
): Promise<void> => {
  const today = todayOf(ctx)
  const past = piece.passages.filter(p => p.readyBy && p.readyBy < today).map(p => ({ passage: p.id }))
  for (const where of [{}, ...past]) {
    const readyBy = 'passage' in where ? '' : next
    const kept = need(await keptNow(ctx, piece.id))
    need(await storeEdit(ctx, all, kept, where, { fields: { readyBy }, lists: {} }, 'keep'))
  }
}

/** Keeps what was said after a date, each only where something was said; all of it is checked before any is kept. */
export const keepAnswers = (
  ctx: Context,
  all: Practiced,
  piece: Piece,
  q: Question,
  a: Answers,
): Promise<Result<string>> =>
  attemptLater(async need => {
    const { piece: now } = need(await keptNow(ctx, piece.id))
    if (a.next !== '')
      need(editPiece(now, {}, { fields: { readyBy: a.next }, lists: {} }, await aroundOf(ctx)))
    if (a.tempo !== '') need(await setTrueTempo(ctx, piece.id, a.tempo))
    if (a.spots !== '')
      await addNotes(ctx.home, { ...ctx.clock, chance: ctx.chance }, [
        { kind: 'note', text: `After ${dayText(q.readyBy, todayOf(ctx))}: ${a.spots}`, piece: piece.id },
      ])
    if (a.next !== '') await setDate(ctx, all, now, a.next, need)
    return keptText(
      [a.tempo && 'the true tempo', a.spots && 'the spots', a.next && 'the next date'].filter(Boolean),
    )
  })
