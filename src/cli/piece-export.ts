import { stat } from 'node:fs/promises'
import type { Context, Outcome } from '../app/context.ts'
import { writeFiles } from '../app/write-files.ts'
import { problem } from '../music/result.ts'
import { count } from '../music/words.ts'
import { pieceText } from '../repertoire/piece.ts'
import { repertoire } from '../store/repertoire.ts'
import { must } from './command.ts'

/** Writes a piece, or one of its passages, as a file that `piece import` reads. What was practiced is not in it. */
export const pieceExportCommand = async (
  ctx: Context,
  name: string,
  file: string,
  t: { readonly force?: boolean },
): Promise<Outcome> => {
  const { in: kept, passage } = must(await repertoire(ctx.home).find(name))
  if (!/\.json$/i.test(file)) must(problem('file', file, 'a name ending in .json'))
  const there = await stat(file).catch(() => null)
  if (there?.isFile() && !t.force) must(problem('file', file, 'another name, or --force to replace the file'))
  const piece = passage ? { ...kept.piece, passages: [passage] } : kept.piece
  await writeFiles([{ path: file, chunks: [pieceText(piece)] }])
  return {
    lines: [`${piece.title}, ${count(piece.passages.length, 'passage')}, is in ${file}.`],
    json: { title: piece.title, passages: piece.passages.map(p => p.name), file },
  }
}
