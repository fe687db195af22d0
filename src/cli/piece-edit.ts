import type { Context, Outcome } from '../app/context.ts'
import { aroundOf, editOnScreen, storeEdit, whereOf } from '../app/edit-piece.ts'
import { readPracticed } from '../app/now.ts'
import { printable, problem } from '../music/result.ts'
import type { Where } from '../repertoire/edit.ts'
import type { Level } from '../repertoire/fields.ts'
import type { Passage } from '../repertoire/piece.ts'
import type { HistoryChoice } from '../repertoire/same-music.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import type { EditTyped } from './edit-options.ts'
import { editsOf, saysSomething } from './edit-typed.ts'
import { must, Stop } from './stop.ts'

const levelOf = (w: Where): Level => (w.section ? 'section' : w.passage ? 'passage' : 'piece')

/** "a passage, as "Weir Street Overture/run at the weir"": what an option wants that was typed for something else. */
const namesIn =
  ({ piece }: Kept, passage: Passage | null) =>
  (wanted: Level): string => {
    const sections = (passage ? [passage] : piece.passages).flatMap(p =>
      (p.sections ?? []).map(s => `${p.name}/${s.name}`),
    )
    const inside = wanted === 'passage' ? piece.passages.map(p => p.name) : sections
    const names = wanted === 'piece' ? [piece.title] : inside.slice(0, 8).map(n => `${piece.title}/${n}`)
    return names.length > 0
      ? `with a ${wanted} named: ${names.map(n => `"${n}"`).join(', ')}`
      : `with a ${wanted}, and there is none yet`
  }

/** Changes a piece, a passage or a section: by options, or without any as a form in the terminal. */
export const pieceEditCommand = async (ctx: Context, name: string, t: EditTyped): Promise<Outcome> => {
  const found = must(await repertoire(ctx.home).find(name, true))
  const { in: kept, passage } = found
  const w = whereOf(found)
  if (t.keep && t.anew) must(problem('--keep', '--keep --anew', 'one of the two'))
  const choice: HistoryChoice | null = t.keep ? 'keep' : t.anew ? 'anew' : null
  if (!saysSomething(t)) {
    if (!ctx.tty || ctx.json)
      throw new Stop(2, 'The form needs a terminal. Without one, use the options in gradino help piece edit.')
    return editOnScreen(ctx, kept, w, choice)
  }
  const edits = must(editsOf(t, levelOf(w), passage, namesIn(kept, passage), await aroundOf(ctx)))
  const done = must(await storeEdit(ctx, await readPracticed(ctx), kept, w, edits, choice))
  if (done.kind === 'asked')
    throw new Stop(
      2,
      `${printable(done.says)}. Add --keep (its history stays) or --anew (it begins anew; the old ceiling can still be read).`,
    )
  return done.outcome
}
