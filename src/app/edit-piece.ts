import { idsOf, sectionKey } from '../ladder/key.ts'
import { attemptLater, failed, given, ok, problem, type Result, sentence } from '../music/result.ts'
import { spoken } from '../music/tempo.ts'
import {
  type Difference,
  type EditAround,
  type Edits,
  editDiff,
  editPiece,
  type Where,
} from '../repertoire/edit.ts'
import type { Found } from '../repertoire/find-piece.ts'
import { newPassage, piecesCalled } from '../repertoire/new-passage.ts'
import { type Passage, PIECE_VERSION, type Piece, shortId } from '../repertoire/piece.ts'
import { begunAnew, type HistoryChoice, type Moved, movedMusic } from '../repertoire/same-music.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import { openSettings } from '../store/settings.ts'
import { asResult, caught } from '../store/trouble.ts'
import type { PlainTerminal } from '../terminal/open-plain.ts'
import type { Terminal } from '../terminal/open-terminal.ts'
import type { Context, Outcome } from './context.ts'
import { type Practiced, readPracticed, todayOf } from './now.ts'
import { controlsOf } from './preferences.ts'
import { presetsOf, rhythmNamed } from './presets.ts'
import { pieceJson, repertoireOf } from './repertoire-rows.ts'
import { notebookOf, terminalFor } from './room.ts'
import { historyText, otherMusicText, ownDatesKept } from './words.ts'

export const aroundOf = async (ctx: Context): Promise<EditAround> => {
  const rhythm = rhythmNamed(await presetsOf(ctx.home))
  return {
    today: todayOf(ctx),
    newId: () => shortId(ctx.chance),
    isRhythm: name => {
      const found = rhythm(name)
      return found.ok && found.value.name === name
    },
  }
}

/** What was named, by ids. */
export const whereOf = ({ passage, section }: Found<Kept>): Where =>
  given({ passage: passage?.id, section: section?.id })

/** Whether anything was practiced under an id: alone, in a join or as a take. */
const practiced = (all: Practiced, id: string): boolean =>
  all.visits.some(v => v.verdicts > 0 && idsOf(v.key).includes(id))

const passageIn = (piece: Piece, w: Where): Passage | undefined =>
  piece.passages.find(p => p.id === w.passage)

/** What changed in the music, of which something was practiced. */
const movedIn = (before: Piece, after: Piece, w: Where, all: Practiced): readonly Moved[] => {
  const [was, is] = [passageIn(before, w), passageIn(after, w)]
  return was && is ? movedMusic(was, is).filter(m => practiced(all, m.id)) : []
}

const ceilingText = (all: Practiced, id: string): string => {
  const ceiling = all.of(sectionKey(id))?.ceiling
  return ceiling ? `, ceiling ${spoken(ceiling)}` : ''
}

const differenceText = ({ was, now, list }: Difference): string =>
  list
    ? [now && `${now} put in`, was && `${was} taken out`].filter(Boolean).join(', ')
    : `${now || 'none'} (was ${was || 'none'})`

/** Passages that go by a date of their own, where the piece's was changed. */
const ownDates = (piece: Piece): readonly string[] => {
  const own = piece.passages.flatMap(p => (p.readyBy ? [`${p.name} (${p.readyBy})`] : []))
  return own.length === 0 ? [] : [ownDatesKept(own)]
}

export type EditResult =
  | { readonly kind: 'asked'; readonly says: string }
  | { readonly kind: 'stored'; readonly outcome: Outcome }

/** Stores an edit, or asks what becomes of the history. */
export const storeEdit = async (
  ctx: Context,
  all: Practiced,
  kept: Kept,
  w: Where,
  edits: Edits,
  choice: HistoryChoice | null,
): Promise<Result<EditResult>> => {
  const around = await aroundOf(ctx)
  const read = editPiece(kept.piece, w, edits, around)
  if (!read.ok) return read
  const edited = read.value
  const moved = movedIn(kept.piece, edited, w, all)
  if (moved.length > 0 && choice === null) return ok({ kind: 'asked', says: otherMusicText(moved) })
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
    if (!stored.ok) return failed(stored.message)
  }
  const at = kept.piece.passages.findIndex(p => p.id === w.passage)
  const passage = piece.passages[at]
  const { pieces, notes: damaged } = await repertoire(ctx.home).list()
  const now = repertoireOf(ctx, { practiced: all, kept: pieces, damaged })
  const stays = moved.length === 0 || choice === 'keep'
  const history = moved.map(m => `${m.name}${ceilingText(all, m.id)}`)
  return ok({
    kind: 'stored',
    outcome: {
      lines: [
        passage ? `${piece.title}/${passage.name}` : piece.title,
        ...(diff.length === 0 ? ['  nothing was changed'] : []),
        ...diff.map(d => `  ${d.label}: ${differenceText(d)}`),
        ...(passage || kept.piece.readyBy === piece.readyBy ? [] : ownDates(piece)),
        ...(history.length === 0 ? [] : [historyText(history, stays)]),
        ...now.notes,
      ],
      json: {
        ...pieceJson(now, piece, passage ? [passage] : piece.passages),
        changed: diff,
        [stays ? 'kept' : 'anew']: moved.map(m => ({ id: m.id, name: m.name, changed: m.what })),
      },
    },
  })
}

/** Stores a passage in the piece of that title, which is begun where there is none. */
export const addPassage = (
  ctx: Context,
  edits: Edits,
): Promise<Result<{ readonly piece: Piece; readonly passage: Passage }>> =>
  attemptLater(async need => {
    const store = repertoire(ctx.home)
    const { pieces } = await store.list()
    const around = { ...(await aroundOf(ctx)), pieces: pieces.map(k => k.piece) }
    const { title, passage } = need(newPassage(edits, around, shortId(ctx.chance)))
    const called = piecesCalled(title, around.pieces)
    const ids = called.map(p => p.id).join(', ')
    if (called.length > 1) need(problem('title', title, `one of ${ids} here, since two pieces have it`))
    const kept = pieces.find(k => k.piece === called[0])
    const piece: Piece = kept
      ? { ...kept.piece, passages: [...kept.piece.passages, passage] }
      : { v: PIECE_VERSION, id: shortId(ctx.chance), title, passages: [passage] }
    need(asResult(await store.save(piece, kept?.seen ?? null)))
    return { piece, passage }
  })

const titleOf = ({ piece }: Kept, w: Where): string => {
  const passage = piece.passages.find(p => p.id === w.passage)
  const section = passage?.sections?.find(s => s.id === w.section)
  return [piece.title, passage?.name, section && `section ${section.name}`].filter(Boolean).join(', ')
}

/** The form for a piece, a passage or a section; `chosen` = what was typed about its history already. `on` stays open. */
export const editOnScreen = async (
  ctx: Context,
  kept: Kept,
  w: Where,
  chosen: HistoryChoice | null,
  on?: Terminal | PlainTerminal,
): Promise<Outcome> => {
  const [{ editScreen }, { editedForm }] = await Promise.all([
    import('../screens/form/screen.ts'),
    import('../screens/form/form.ts'),
  ])
  const [title, id] = [titleOf(kept, w), w.section ?? w.passage]
  const settings = await openSettings(ctx.home, ctx.clock.wall)
  const all = await readPracticed(ctx, settings)
  const terminal = on ?? (await terminalFor(ctx, settings.now()))
  const left = await editScreen<Outcome>({
    terminal,
    timing: ctx.clock,
    controls: controlsOf(settings.now()),
    title,
    notebook: notebookOf(ctx),
    subject: { about: given({ piece: kept.piece.id, key: id && sectionKey(id) }), says: title },
    form: editedForm(kept.piece, w),
    around: await aroundOf(ctx),
    store: async (edits, choice) => {
      const done = await caught(() => storeEdit(ctx, all, kept, w, edits, choice ?? chosen))
      if (!done.ok) return { kind: 'refused', text: sentence(done.problem) }
      const { value } = done
      return value.kind === 'asked'
        ? { kind: 'asked', text: value.says }
        : { kind: 'stored', value: value.outcome }
    },
  }).finally(on ? () => {} : terminal.close)
  if (left.stored !== null) return left.stored
  return {
    lines:
      left.unsaved === ''
        ? ['Nothing was changed.']
        : ['Nothing was changed. Not stored:', `  ${left.unsaved}`],
  }
}
