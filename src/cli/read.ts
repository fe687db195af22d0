import { storeSections } from '../app/change-passage.ts'
import type { Context, Outcome } from '../app/context.ts'
import { inRoom, soundingIn } from '../app/room.ts'
import { compile } from '../click/compile.ts'
import { FIND_FROM, markBelow } from '../ladder/start.ts'
import { playedForm } from '../music/changes.ts'
import { valueAt } from '../music/changing.ts'
import { parseClicked } from '../music/clicked.ts'
import { checked, given, problem } from '../music/result.ts'
import { inUnit, parseTempo, type Tempo } from '../music/tempo.ts'
import { musicOf } from '../repertoire/ladder-of.ts'
import type { Passage, Piece } from '../repertoire/piece.ts'
import type { Pass } from '../screens/reading/reduce.ts'
import { RATE } from '../sound/stream.ts'
import { repertoire } from '../store/repertoire.ts'
import { placeText } from '../visit/subject.ts'
import { ifSaid, must } from './command.ts'
import type { Typed } from './commands.ts'
import { parseHow } from './options.ts'

/** A passage as it is read: slowly, each beat, with one measure of count-in. */
const passOf = (piece: Piece, p: Passage, typed: Tempo | undefined): Pass => {
  const { form, numbers, letters, goal } = musicOf(p)
  const tempo = typed ? inUnit(typed, goal.unit) : markBelow(goal, FIND_FROM)
  const counted = valueAt(checked(parseClicked(p)).pulse ?? [], tempo) ?? null
  const played = playedForm(form, tempo, goal)
  return {
    id: p.id,
    piece: piece.id,
    title: `${piece.title}   ${placeText(p)}`,
    name: `${piece.title}/${p.name}`,
    music: given({ form: played, numbers, letters }),
    tempo,
    counted,
    program: compile(
      played,
      tempo,
      given({ countIn: 1, subdivide: 1, pulse: counted ?? undefined, rate: RATE }),
    ),
  }
}

/** One slow reading of a passage, or of all passages of a piece, on a screen or as lines with `--plain`. */
export const readCommand = async (ctx: Context, name: string, t: Typed<'read'>): Promise<Outcome> => {
  const found = must(await repertoire(ctx.home).find(name))
  const { piece } = found.in
  const passages = found.passage ? [found.passage] : piece.passages
  if (passages.length === 0) must(problem('piece', name, 'a piece with a passage (gradino piece add)'))
  const typed = ifSaid(t.at, s => parseTempo(s, 'tempo of the reading'))
  const passes = passages.map(p => passOf(piece, p, typed))
  const how = must(parseHow(ctx, t.output, 'The reading'))
  const left = await inRoom(ctx, { how }, async room => {
    const { readingScreen } = await import('../screens/reading/screen.ts')
    return readingScreen({ passes, store: storeSections(ctx, piece), ...(await soundingIn(room)) })
  })
  return must(left)
}
