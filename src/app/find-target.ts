import type { Typed } from '../cli/options.ts'
import { problem } from '../music/result.ts'
import { findPiece } from '../repertoire/find-piece.ts'
import { ladderOf, spanOf } from '../repertoire/ladder-of.ts'
import type { Passage, Piece, Section } from '../repertoire/piece.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import { joinTarget } from '../visit/join-target.ts'
import { fromPassage, inRhythm, quickTarget, type Target } from '../visit/subject.ts'
import { type Context, must, Stop } from './context.ts'
import { type Presets, presetsOf } from './presets.ts'

/** "1+2" behind a passage: the sections that are joined; null where the name holds no join. */
const joinNames = (name: string): { passage: string; parts: readonly string[] } | null => {
  const at = name.lastIndexOf('/')
  const parts = name.slice(at + 1).split('+')
  return at > 0 && parts.length > 1 && parts.every(p => p.trim() !== '')
    ? { passage: name.slice(0, at), parts }
    : null
}

/** Two or more neighboring sections as one, or with `--seam` only where they meet. */
const fromJoin = (
  pieces: readonly Kept[],
  names: NonNullable<ReturnType<typeof joinNames>>,
  t: Typed,
  presets: Presets,
): Target => {
  const found = names.parts.map(part => must(findPiece(pieces, `${names.passage}/${part}`, true)))
  const [first] = found
  const passage = first?.passage
  const own = found.flatMap(f => (f.section ? [f.section] : []))
  if (!first || !passage || own.length < found.length)
    return must(
      problem('sections', names.parts.join('+'), `sections of ${names.passage} (gradino piece split)`),
    )
  const by =
    t.seam === undefined
      ? null
      : t.seam === 'beat' || t.seam === 'measure'
        ? t.seam
        : must<never>(problem('seam', t.seam, 'beat or measure'))
  return joinTarget(first.in.piece, passage, own, by, t, presets)
}

/** By name from the repertoire, or a quick ladder where there is only a goal. Throws Stop with one sentence. */
export const findTarget = async (ctx: Context, name: string | undefined, t: Typed): Promise<Target> => {
  const presets = await presetsOf(ctx.home)
  if (name === undefined && t.goal !== undefined) return quickTarget(t, presets)
  const { pieces, notes } = await repertoire(ctx.home).list()
  if (name === undefined) {
    const all = pieces.flatMap(k => k.piece.passages.map(p => ({ piece: k.piece, passage: p })))
    const [one] = all
    if (all.length === 1 && one)
      return inRhythm(passageTarget(one.piece, one.passage, null, t, presets), t.rhythm, presets)
    throw new Stop(
      2,
      'Say what to practice: gradino practice PIECE/PASSAGE, or --goal TEMPO for a quick ladder.',
    )
  }
  const found = findPiece(pieces, name, true, notes)
  const join = joinNames(name)
  if (!found.ok && join) return inRhythm(fromJoin(pieces, join, t, presets), t.rhythm, presets)
  const { in: kept, passage: named, section } = must(found)
  const passage = named ?? (kept.piece.passages.length === 1 ? kept.piece.passages[0] : undefined)
  if (!passage) {
    const names = kept.piece.passages.map(p => p.name).join(', ')
    const accepted =
      names === '' ? 'a piece with a passage (gradino piece add)' : `one of its passages: ${names}`
    return must(problem('passage', name, accepted))
  }
  return inRhythm(passageTarget(kept.piece, passage, section, t, presets), t.rhythm, presets)
}

const passageTarget = (piece: Piece, p: Passage, s: Section | null, t: Typed, presets: Presets): Target =>
  fromPassage(
    piece,
    p,
    s && spanOf(p, [s]),
    {
      ladder: ladderOf(p, s ? [s] : []),
      name: s ? `, section ${s.name}` : '',
      sections: s ? [s] : [],
    },
    t,
    presets,
  )
