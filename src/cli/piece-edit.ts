import { type Context, must, type Outcome, Stop } from '../app/context.ts'
import { type Known, known, todayOf } from '../app/known.ts'
import { type Presets, presetsOf, rhythmNamed } from '../app/presets.ts'
import { pieceJson, repertoireNow } from '../app/repertoire-rows.ts'
import { idsOf, sectionKey } from '../ladder/key.ts'
import { printable, problem } from '../music/result.ts'
import { spoken } from '../music/tempo.ts'
import { type EditAround, type Edits, editPiece, type Where } from '../repertoire/edit.ts'
import { type Difference, editDiff } from '../repertoire/edit-diff.ts'
import type { Level } from '../repertoire/fields.ts'
import type { Found } from '../repertoire/find-piece.ts'
import { type Passage, type Piece, shortId } from '../repertoire/piece.ts'
import { begunAnew, type Moved, movedMusic } from '../repertoire/same-music.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import type { Terminal } from '../terminal/open-terminal.ts'
import type { EditTyped } from './edit-options.ts'
import { editsOf, saysSomething } from './edit-typed.ts'

/** What becomes of the history where the music changed. */
export type Choice = 'keep' | 'anew'

const isRhythm = (presets: Presets, name: string): boolean => {
  try {
    return rhythmNamed(presets, name).name === name
  } catch {
    return false
  }
}

export const aroundOf = async (ctx: Context): Promise<EditAround> => {
  const presets = await presetsOf(ctx.home)
  return {
    today: todayOf(ctx),
    newId: () => shortId(ctx.chance),
    isRhythm: name => isRhythm(presets, name),
  }
}

/** Whether anything was practiced under an id: alone, in a join or as a take. */
const practiced = (all: Known, id: string): boolean =>
  all.visits.some(v => v.verdicts > 0 && idsOf(v.key).includes(id))

const listed = (all: readonly string[]): string =>
  all.length < 2 ? all.join('') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`

const levelOf = (w: Where): Level => (w.section ? 'section' : w.passage ? 'passage' : 'piece')

const passageIn = (piece: Piece, w: Where): Passage | undefined =>
  piece.passages.find(p => p.id === w.passage)

/** What changed in the music, of which something was practiced. */
const movedIn = (before: Piece, after: Piece, w: Where, all: Known): readonly Moved[] => {
  const [was, is] = [passageIn(before, w), passageIn(after, w)]
  return was && is ? movedMusic(was, is).filter(m => practiced(all, m.id)) : []
}

const question = (moved: readonly Moved[]): string =>
  `${listed(moved.map(m => `${m.name} (${m.what.join(', ')})`))} ${moved.length === 1 ? 'is' : 'are'} no longer the music that was practiced`

const ceilingText = (all: Known, id: string): string => {
  const ceiling = all.of(sectionKey(id))?.ceiling
  return ceiling ? `, ceiling ${spoken(ceiling)}` : ''
}

const differenceText = ({ was, now, list }: Difference): string =>
  list
    ? [now && `${now} put in`, was && `${was} taken out`].filter(Boolean).join(', ')
    : `${now || 'none'} (was ${was || 'none'})`

export type Answer =
  | { readonly k: 'asked'; readonly says: string }
  | { readonly k: 'stored'; readonly outcome: Outcome }

/** Stores an edit, or asks what becomes of the history. Throws Stop with one sentence. */
export const storeEdit = async (
  ctx: Context,
  kept: Kept,
  w: Where,
  edits: Edits,
  choice: Choice | null,
): Promise<Answer> => {
  const around = await aroundOf(ctx)
  const edited = must(editPiece(kept.piece, w, edits, around))
  const all = await known(ctx)
  const moved = movedIn(kept.piece, edited, w, all)
  if (moved.length > 0 && choice === null) return { k: 'asked', says: question(moved) }
  const ids = moved.map(m => m.id)
  const piece =
    choice === 'anew'
      ? {
          ...edited,
          passages: edited.passages.map(p => (p.id === w.passage ? begunAnew(p, ids, around.newId) : p)),
        }
      : edited
  const diff = editDiff(kept.piece, edited, w)
  if (diff.length > 0) {
    const stored = await repertoire(ctx.home).save(piece, kept.seen)
    if (!stored.ok) throw new Stop(1, stored.message)
  }
  const at = kept.piece.passages.findIndex(p => p.id === w.passage)
  const passage = piece.passages[at]
  const now = await repertoireNow(ctx)
  const stays = moved.length === 0 || choice === 'keep'
  const history = moved.map(m => `${m.name}${ceilingText(all, m.id)}`)
  return {
    k: 'stored',
    outcome: {
      lines: [
        passage ? `${piece.title}/${passage.name}` : piece.title,
        ...(diff.length === 0 ? ['  nothing was changed'] : []),
        ...diff.map(d => `  ${d.label}: ${differenceText(d)}`),
        ...(history.length === 0
          ? []
          : [
              stays
                ? `The history stays: ${listed(history)}.`
                : `Begins anew: ${listed(history)} stays to be read (gradino piece show).`,
            ]),
        ...now.notes,
      ],
      json: {
        ...pieceJson(now, piece, passage ? [passage] : piece.passages),
        changed: diff,
        [stays ? 'kept' : 'anew']: moved.map(m => ({ id: m.id, name: m.name, changed: m.what })),
      },
    },
  }
}

/** What was named, by ids. */
const whereOf = (found: Found<Kept>): Where => ({
  ...(found.passage ? { passage: found.passage.id } : {}),
  ...(found.section ? { section: found.section.id } : {}),
})

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

/** Changes a piece, a passage or a section: by options, or without any as a form in the terminal (`on`: one that is open). */
export const pieceEditCommand = async (
  ctx: Context,
  name: string,
  t: EditTyped,
  on?: Terminal,
): Promise<Outcome> => {
  const found = must(await repertoire(ctx.home).find(name, true))
  const { in: kept, passage } = found
  const w = whereOf(found)
  if (t.keep && t.anew) must(problem('--keep', '--keep --anew', 'one of the two'))
  const choice: Choice | null = t.keep ? 'keep' : t.anew ? 'anew' : null
  if (!saysSomething(t)) {
    if (!ctx.tty || ctx.plain || ctx.json)
      throw new Stop(
        2,
        'The form needs a terminal; what is to be changed can be said by options (gradino piece edit --help).',
      )
    const { editOnScreen } = await import('./piece-edit-screen.ts')
    return editOnScreen(ctx, kept, w, choice, on)
  }
  const edits = must(editsOf(t, levelOf(w), passage, namesIn(kept, passage), await aroundOf(ctx)))
  const done = await storeEdit(ctx, kept, w, edits, choice)
  if (done.k === 'asked')
    throw new Stop(
      2,
      `${printable(done.says)}. Add --keep (its history stays) or --anew (it begins anew; the old ceiling can still be read).`,
    )
  return done.outcome
}
