import type { Context, Outcome } from '../app/context.ts'
import { pieceJson, type Repertoire, repertoireNow } from '../app/repertoire-rows.ts'
import { inOneLine } from '../screens/home/words.ts'

/** The whole repertoire for programs. */
export const piecesJson = (now: Repertoire) => ({
  today: now.around.today,
  pieces: now.around.pieces.map(p => pieceJson(now, p)),
  notes: now.notes,
})

export const NO_PIECES =
  'You have no pieces yet. A first passage: gradino piece add TITLE --in 41-44 --goal 120'

/** The repertoire piece by piece, in the order of titles. */
export const piecesCommand = async (ctx: Context): Promise<Outcome> => {
  const now = await repertoireNow(ctx)
  const lines = now.around.pieces.flatMap(p => [
    p.passages.length > 0 ? p.title : `${p.title}: no passage yet`,
    ...p.passages
      .flatMap(passage => now.rows.filter(r => r.id === passage.id))
      .map(r => `  ${r.place}: ${inOneLine(r, now.around.today)}`),
  ])
  return { lines: [...(lines.length > 0 ? lines : [NO_PIECES]), ...now.notes], json: piecesJson(now) }
}
