import type { Context, Outcome } from '../app/context.ts'
import { type ImportTyped, importFile, readFile } from '../app/import-piece.ts'
import { must } from './command.ts'

/** What the screen asks: with one of these the player has said what is wanted. */
const CHOICES = ['part', 'movement', 'pieces', 'passages', 'whole', 'from', 'to', 'asPlayed', 'goal'] as const

/** `gradino piece import`: a part from a score, chosen on a screen where nothing is said; or a piece that was shared. */
export const pieceImportCommand = async (ctx: Context, typed: string, t: ImportTyped): Promise<Outcome> => {
  const file = must(await readFile(typed))
  const asks = ctx.tty && !ctx.plain && !ctx.json && CHOICES.every(c => t[c] === undefined)
  if (file.kind === 'score' && asks) {
    const { importOnScreen } = await import('../app/import-screen.ts')
    return (await importOnScreen(ctx, { file, typed: t })).outcome
  }
  return must(await importFile(ctx, file, t))
}
