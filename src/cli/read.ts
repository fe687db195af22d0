import { changePassage } from '../app/change-passage.ts'
import { type Context, must, type Outcome } from '../app/context.ts'
import { levelsOf } from '../app/preferences.ts'
import { inTerminal, onStage } from '../app/stage.ts'
import { compile } from '../click/compile.ts'
import type { Levels } from '../click/voices.ts'
import { FIND_FROM, markBelow } from '../ladder/start.ts'
import { playedForm } from '../music/changes.ts'
import { valueAt } from '../music/changing.ts'
import { ok, problem } from '../music/result.ts'
import { inUnit, parseTempo, type Tempo } from '../music/tempo.ts'
import { musicOf } from '../repertoire/ladder-of.ts'
import { type Passage, type Piece, shortId } from '../repertoire/piece.ts'
import type { Stretch } from '../screens/reading/marks.ts'
import { withSections } from '../screens/reading/new-sections.ts'
import type { Pass } from '../screens/reading/reduce.ts'
import { RATE } from '../sound/stream.ts'
import { repertoire } from '../store/repertoire.ts'
import type { Done } from '../store/trouble.ts'
import { pedalLock } from '../terminal/lock.ts'
import { placeText } from '../visit/subject.ts'
import { readClicked } from './click-options.ts'

/** `gradino read`, as typed. */
export type ReadTyped = { readonly at?: string; readonly output?: string }

/** A passage as it is read: slowly, each beat, with one measure of count-in. */
const passOf = (piece: Piece, p: Passage, typed: Tempo | null): Pass => {
  const { form, numbers, goal } = musicOf(p)
  const tempo = typed ? inUnit(typed, goal.unit) : markBelow(goal, FIND_FROM)
  const counted = valueAt(readClicked(p).pulse ?? [], tempo) ?? null
  const played = playedForm(form, tempo, goal)
  return {
    id: p.id,
    title: `${piece.title}   ${placeText(p)}`,
    name: `${piece.title}/${p.name}`,
    music: { form: played, numbers },
    tempo,
    counted,
    program: compile(played, tempo, {
      countIn: 1,
      subdivide: 1,
      ...(counted ? { pulse: counted } : {}),
      rate: RATE,
    }),
  }
}

/** Stores stretches as sections of a passage that was read, as it stands in the repertoire by now. */
export const storeSections =
  (ctx: Context, read: Piece) =>
  async (pass: Pick<Pass, 'id'>, stretches: readonly Stretch[]): Promise<Done<readonly string[]>> => {
    let names: readonly string[] = []
    const stored = await changePassage(ctx, read, pass.id, (piece, now) => {
      const { passage, added } = withSections(now, stretches, () => shortId(ctx.chance))
      names = added.map(s => s.name)
      return ok({ ...piece, passages: piece.passages.map(p => (p === now ? passage : p)) })
    })
    return stored.ok ? { ok: true, value: names } : stored
  }

/** One slow reading of a passage, or of all passages of a piece, on a screen or as lines with `--plain`. */
export const readCommand = async (ctx: Context, name: string, t: ReadTyped): Promise<Outcome> => {
  const found = must(await repertoire(ctx.home).find(name))
  const { piece } = found.in
  const passages = found.passage ? [found.passage] : piece.passages
  if (passages.length === 0) must(problem('piece', name, 'a piece with a passage (gradino piece add)'))
  const typed = t.at === undefined ? null : must(parseTempo(t.at, 'tempo of the reading'))
  const passes = passages.map(p => passOf(piece, p, typed))
  return onStage(ctx, { what: 'The reading', output: t.output }, ({ sound, settings, keep }) => {
    const parts = {
      passes,
      sound,
      timing: ctx.clock,
      lock: pedalLock({ lockMs: settings.lock }),
      count: settings.pedals,
      pedals: { right: settings.right, left: settings.left },
      levels: levelsOf(settings),
      store: storeSections(ctx, piece),
      louder: (levels: Levels) => keep({ levels: { ...levels } }),
    }
    return inTerminal(
      ctx,
      settings,
      async terminal => (await import('../screens/reading/screen.tsx')).readingScreen({ ...parts, terminal }),
      async terminal => (await import('../screens/reading/plain.ts')).readingPlain({ ...parts, terminal }),
    )
  })
}
