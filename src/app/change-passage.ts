import { add, compare, less, min } from '../music/fraction.ts'
import { placeAt } from '../music/place.ts'
import { attemptLater, checked, failed, ok, type Result, sentence, wrong } from '../music/result.ts'
import { type By, type Span, sections } from '../music/sections.ts'
import { musicMark, type PassageForm, passageForm, passageNotes } from '../repertoire/passage-form.ts'
import { checkPiece, type Passage, type Piece, type Section, shortId } from '../repertoire/piece.ts'
import { type Stretch, withSections } from '../screens/reading/marks.ts'
import { repertoire } from '../store/repertoire.ts'
import { asDone, asResult, type Done, tried } from '../store/trouble.ts'
import type { Context } from './context.ts'
import { onePassage } from './find-target.ts'
import { PASSAGE_CHANGED } from './words.ts'

/**
 * Changes a passage as it stands in the repertoire by now, as long as it is still the music that was `read`. Gives the
 * piece as it is then; one that does not change is not written.
 */
export const changePassage = async (
  ctx: Pick<Context, 'home'>,
  read: Piece,
  id: string,
  change: (piece: Piece, now: Passage) => Result<Piece>,
): Promise<Result<Piece>> =>
  tried(async need => {
    const store = repertoire(ctx.home)
    const kept = (await store.list()).pieces.find(k => k.piece.id === read.id)
    const [before, now] = [read, kept?.piece].map(x => x?.passages.find(p => p.id === id))
    const same = before && now && checked(musicMark(before)) === checked(musicMark(now))
    if (!kept || !now || !same) return need(failed(PASSAGE_CHANGED))
    const changed = change(kept.piece, now)
    if (!changed.ok) return need(failed(`Nothing was stored. ${sentence(changed.problem)}`))
    const after = changed.value
    if (after.passages.some((p, i) => p !== kept.piece.passages[i]))
      need(asResult(await store.save(after, kept.seen)))
    return after
  })

/** Stores stretches as sections of a passage that was read, as it stands in the repertoire by now. */
export const storeSections =
  (ctx: Context, read: Piece) =>
  async (
    passage: { readonly id: string },
    stretches: readonly Stretch[],
  ): Promise<Done<readonly string[]>> => {
    let names: readonly string[] = []
    const stored = await changePassage(ctx, read, passage.id, (piece, now) => {
      const { passage: cut, added } = withSections(now, stretches, () => shortId(ctx.chance))
      names = added.map(s => s.name)
      return ok({ ...piece, passages: piece.passages.map(p => (p === now ? cut : p)) })
    })
    return asDone(stored.ok ? ok(names) : stored)
  }

/** As many as a piece's file takes. */
const MOST = 500

/** The sections of a passage; each goes on over the first note of the next one, which a part that was read knows. */
const spansOf = (p: Passage, whole: PassageForm, by: By): readonly Span[] => {
  const notes = passageNotes(p)
  const spans = sections(whole.form, by)
  return spans.map((span, i) => {
    const next = spans[i + 1]
    const first = next && notes.find(n => compare(n.at, next.from) >= 0 && less(n.at, next.to))
    return first ? { ...span, to: min(whole.form.length, add(first.at, first.length)) } : span
  })
}

/** A section that holds the same music as one that was there has its id, and with it its history. */
const withOldIds = (p: Passage, fresh: readonly Section[]): readonly Section[] => {
  const old = (p.sections ?? []).map(s => ({ s, mark: checked(musicMark(p, s)) }))
  return fresh.map(s => {
    const mark = checked(musicMark(p, s))
    const at = old.findIndex(o => o.mark === mark)
    // Played out, two sections may hold the same music: each history goes to one of them.
    const same = at < 0 ? undefined : old.splice(at, 1)[0]?.s
    return same ? { ...same, name: s.name, from: s.from, to: s.to } : s
  })
}

export type Split = {
  readonly piece: Piece
  readonly passage: Passage
  readonly cut: readonly Section[]
  readonly gone: readonly Section[]
}

/** Cuts a passage into sections 1, 2, 3 ... `again`: in place of those that are there. */
export const splitPassage = (
  ctx: Context,
  name: string,
  by: (whole: PassageForm) => Result<By>,
  again: boolean,
): Promise<Result<Split>> =>
  attemptLater(async need => {
    const store = repertoire(ctx.home)
    const found = need(await store.find(name))
    const { piece, seen } = found.in
    const { passage } = need(onePassage(found, name))
    const whole = checked(passageForm(passage))
    const spans = spansOf(passage, whole, need(by(whole)))
    const label = `"${piece.title}/${passage.name}"`
    if (spans.length < 2 || spans.length > MOST)
      need(
        wrong(
          `That makes ${spans.length === 1 ? 'one section' : `${spans.length} sections`} of ${label}. Cut it into 2 to ${MOST}.`,
        ),
      )
    const before = passage.sections ?? []
    if (before.length > 0 && !again)
      need(
        wrong(
          `${label} already has ${before.length === 1 ? 'a section' : `${before.length} sections`}. Add --again to cut it anew; a section with the same music keeps its history.`,
        ),
      )
    const fresh = spans.map((s, i) => ({
      id: shortId(ctx.chance),
      name: `${i + 1}`,
      from: placeAt(s.from, whole),
      to: placeAt(s.to, whole),
    }))
    const cut = withOldIds(passage, fresh)
    const edited = need(
      checkPiece({
        ...piece,
        passages: piece.passages.map(p => (p === passage ? { ...p, sections: cut } : p)),
      }),
    )
    need(asResult(await store.save(edited, seen)))
    return { piece: edited, passage, cut, gone: before.filter(s => !cut.some(c => c.id === s.id)) }
  })
