import { spoken } from '../music/tempo.ts'
import type { Row } from '../screens/home/row.ts'
import { inOneLine } from '../screens/home/words.ts'
import { findPiece } from '../store/find-piece.ts'
import { type Context, must, type Outcome } from './context.ts'
import { pieceJson, repertoireNow } from './repertoire-rows.ts'

const inFull = (r: Row, today: string): readonly string[] => [
  '',
  `  ${r.place}`,
  `    ${r.music}`,
  `    ${inOneLine(r, today)}`,
  ...(r.start ? [`    start ${spoken(r.start)}`] : []),
  ...(r.note === '' ? [] : [`    ${r.note}`]),
]

/** A piece with all its passages, or one of them. */
export const pieceShowCommand = async (ctx: Context, name: string): Promise<Outcome> => {
  const now = await repertoireNow(ctx)
  const found = must(findPiece(now.kept, name))
  const { piece } = found.in
  const passages = found.passage ? [found.passage] : piece.passages
  const rows = passages.flatMap(p => now.rows.filter(r => r.id === p.id))
  return {
    lines: [
      piece.title,
      ...(rows.length > 0 ? rows.flatMap(r => inFull(r, now.around.today)) : ['  no passage yet']),
      ...now.notes,
    ],
    json: pieceJson(now, piece, passages),
  }
}
