import { checked, ok, type Result, sentence } from '../music/result.ts'
import { musicMark } from '../repertoire/passage-form.ts'
import { type Passage, type Piece, shortId } from '../repertoire/piece.ts'
import type { Stretch } from '../screens/reading/marks.ts'
import { withSections } from '../screens/reading/new-sections.ts'
import { repertoire } from '../store/repertoire.ts'
import { type Done, StoreError } from '../store/trouble.ts'
import type { Context } from './context.ts'
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
): Promise<Done<Piece>> => {
  const store = repertoire(ctx.home)
  try {
    const kept = (await store.list()).pieces.find(k => k.piece.id === read.id)
    const [before, now] = [read, kept?.piece].map(x => x?.passages.find(p => p.id === id))
    const same = before && now && checked(musicMark(before)) === checked(musicMark(now))
    if (!kept || !now || !same) return { ok: false, message: PASSAGE_CHANGED }
    const changed = change(kept.piece, now)
    if (!changed.ok) return { ok: false, message: `Nothing was stored. ${sentence(changed.problem)}` }
    const after = changed.value
    if (after.passages.every((p, i) => p === kept.piece.passages[i])) return { ok: true, value: after }
    const stored = await store.save(after, kept.seen)
    return stored.ok ? { ok: true, value: after } : stored
  } catch (error) {
    if (error instanceof StoreError) return { ok: false, message: error.message }
    throw error
  }
}

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
    return stored.ok ? { ok: true, value: names } : stored
  }
