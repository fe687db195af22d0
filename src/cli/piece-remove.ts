import { basename, dirname } from 'node:path'
import type { Context, Outcome } from '../app/context.ts'
import type { Passage } from '../repertoire/piece.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import type { Done } from '../store/trouble.ts'
import { must, Stop } from './command.ts'

const KEPT = 'What you practiced stays in the journal.'

const stored = (done: Done<string>): string => {
  if (!done.ok) throw new Stop(1, done.message)
  return done.value
}

/** A piece leaves the repertoire with everything in it. */
const removePiece = async (ctx: Context, { piece, file }: Kept): Promise<Outcome> => {
  const place = stored(await repertoire(ctx.home).remove(piece))
  return {
    lines: [
      `${piece.title} is no longer in the repertoire. ${KEPT}`,
      `To get it back, move this file: ${place}`,
      `into this folder: ${dirname(file)}`,
    ],
    json: { removed: piece.title, passages: piece.passages.map(p => p.name), file: place },
  }
}

/** A passage leaves its piece; the piece's file as it was stays beside it until the next change. */
const removePassage = async (
  ctx: Context,
  { piece, file, seen }: Kept,
  passage: Passage,
): Promise<Outcome> => {
  const passages = piece.passages.filter(p => p !== passage)
  stored(await repertoire(ctx.home).save({ ...piece, passages }, seen))
  return {
    lines: [
      `${passage.name} is no longer in ${piece.title}. ${KEPT}`,
      `To get it back before you change the piece again, rename ${file}.bak`,
      `to ${basename(file)}`,
    ],
    json: { removed: piece.title, passages: [passage.name], file: `${file}.bak` },
  }
}

/**
 * Takes a passage, or with the last passage or `--all` the whole piece, out of the repertoire. Asks nothing, deletes
 * nothing, and says how it comes back.
 */
export const pieceRemoveCommand = async (
  ctx: Context,
  name: string,
  t: { readonly all?: boolean },
): Promise<Outcome> => {
  const { in: kept, passage } = must(await repertoire(ctx.home).find(name))
  const { title, passages } = kept.piece
  if (passage && t.all)
    throw new Stop(2, `--all is for a whole piece: gradino piece remove "${title}" --all.`)
  if (passages.length > 1 && !t.all && !passage)
    throw new Stop(
      2,
      `${title} has ${passages.length} passages. Add --all for the whole piece, or name one of them: ${passages.map(p => `"${title}/${p.name}"`).join(', ')}.`,
    )
  return passage && passages.length > 1 ? removePassage(ctx, kept, passage) : removePiece(ctx, kept)
}
