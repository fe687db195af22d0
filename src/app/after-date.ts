import { aroundOf, storeEdit } from '../cli/piece-edit.ts'
import { pieceTempoCommand } from '../cli/piece-tempo.ts'
import { dayText } from '../music/day-words.ts'
import type { Question } from '../plan/dates.ts'
import { editPiece } from '../repertoire/edit.ts'
import type { Piece } from '../repertoire/piece.ts'
import type { Answers } from '../screens/today/after.ts'
import { addNotes } from '../store/notes.ts'
import { repertoire } from '../store/repertoire.ts'
import { type Context, must, Stop } from './context.ts'
import { todayOf } from './known.ts'

/** One of the pieces as it is kept now. */
const keptNow = async (ctx: Context, id: string) => {
  const found = (await repertoire(ctx.home).list()).pieces.find(k => k.piece.id === id)
  if (!found) throw new Stop(1, 'That piece is no longer in the repertoire.')
  return found
}

/** The next date for the piece; passages whose own date is past have the piece's from now on. */
const setDate = async (ctx: Context, piece: Piece, next: string): Promise<void> => {
  const today = todayOf(ctx)
  const past = piece.passages.filter(p => p.readyBy && p.readyBy < today).map(p => ({ passage: p.id }))
  for (const where of [{}, ...past]) {
    const readyBy = 'passage' in where ? '' : next
    await storeEdit(ctx, await keptNow(ctx, piece.id), where, { fields: { readyBy }, lists: {} }, 'keep')
  }
}

/**
 * Keeps what was said after a date, each only where something was said; all of it is checked before any is kept. Throws
 * Stop or StoreError with one sentence.
 */
export const keepAnswers = async (ctx: Context, piece: Piece, q: Question, a: Answers): Promise<string> => {
  const { piece: now } = await keptNow(ctx, piece.id)
  if (a.next !== '') must(editPiece(now, {}, { fields: { readyBy: a.next }, lists: {} }, await aroundOf(ctx)))
  if (a.tempo !== '') await pieceTempoCommand(ctx, piece.id, a.tempo, {})
  if (a.spots !== '')
    await addNotes(ctx.home, { ...ctx.clock, chance: ctx.chance }, [
      { k: 'note', text: `After ${dayText(q.readyBy, todayOf(ctx))}: ${a.spots}`, piece: piece.id },
    ])
  if (a.next !== '') await setDate(ctx, now, a.next)
  const said = [a.tempo && 'the true tempo', a.spots && 'the spots', a.next && 'the next date'].filter(
    Boolean,
  )
  return said.length > 0 ? `Kept: ${said.join(', ')}.` : 'Nothing was said; it is not asked again.'
}
