import type { Context, Outcome } from '../app/context.ts'
import { aroundOf, editOnScreen, storeEdit, whereOf } from '../app/edit-piece.ts'
import { readPracticed } from '../app/now.ts'
import { ok, printable, problem, type Result } from '../music/result.ts'
import { changeList } from '../repertoire/change-list.ts'
import type { Edits, Where } from '../repertoire/edit.ts'
import type { Level } from '../repertoire/fields.ts'
import type { Sources } from '../repertoire/kinds.ts'
import { KINDS, LISTS, type ListKey } from '../repertoire/lists.ts'
import type { Passage } from '../repertoire/piece.ts'
import type { HistoryChoice } from '../repertoire/same-music.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import { must, Stop } from './command.ts'
import { type EditTyped, FIELDS, type Op, optionKey, RAMP } from './piece-commands.ts'

/** Whether anything but --keep and --anew was typed. */
const saysSomething = (t: EditTyped): boolean => Object.keys(t).some(k => k !== 'keep' && k !== 'anew')

const texts = (ops: EditTyped[string], k: Op['kind']): readonly string[] =>
  Array.isArray(ops) ? (ops as readonly Op[]).filter(o => o.kind === k).map(o => o.text) : []

/** What was typed, as edits of a piece, a passage or a section; an option that is not for it is refused with `names`. */
export const editsOf = (
  t: EditTyped,
  level: Level,
  passage: Passage | null,
  names: (wanted: Level) => string,
  from: Sources,
): Result<Edits> => {
  const fields: { [key: string]: string } = {}
  for (const { flags, key, levels } of FIELDS) {
    const text = t[optionKey(flags)]
    if (typeof text !== 'string') continue
    const [wanted] = levels
    if (!levels.includes(level)) return problem(flags.split(' ')[0] ?? '', text, names(wanted as Level))
    fields[key] = text
  }
  const lists: { [K in ListKey]?: Edits['lists'][K] } = {}
  for (const list of LISTS) {
    const [name] = KINDS[list].option
    const ops = t[optionKey(`--${name} <x>`)]
    const ramps = list === 'tempos' ? texts(t[RAMP], 'put') : []
    const put = [...texts(ops, 'put'), ...ramps.map(r => `${r} ramp`)]
    const drop = texts(ops, 'drop')
    if (put.length + drop.length === 0) continue
    if (!passage || level !== 'passage')
      return problem(put.length > 0 ? `--${name}` : `--no-${name}`, put[0] ?? drop[0] ?? '', names('passage'))
    const changed = changeList(list, passage, { put, drop }, from)
    if (!changed.ok) return changed
    lists[list] = changed.value
  }
  return ok({ fields, lists })
}

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
