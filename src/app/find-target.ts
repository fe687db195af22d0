import { attempt, ok, problem, type Result, wrong } from '../music/result.ts'
import { type Found, findPiece } from '../repertoire/find-piece.ts'
import type { Kept } from '../store/repertoire.ts'
import type { Target, Wishes } from '../visit/subject.ts'
import { passageTarget, quickTarget, type Selection } from '../visit/target.ts'
import { type Now, usually } from './now.ts'
import { rhythmNamed } from './presets.ts'
import { noPassageYet, SAY_WHAT } from './words.ts'

/** "1+2" behind a passage: neighboring sections as one, or only where they meet; null where the name holds no join. */
const joinOf = (pieces: readonly Kept[], name: string, seam: Selection['seam']): Result<Selection> | null => {
  const at = name.lastIndexOf('/')
  const [parts, whole] = [name.slice(at + 1).split('+'), name.slice(0, at)]
  if (at <= 0 || parts.length < 2 || parts.some(p => p.trim() === '')) return null
  return attempt(need => {
    const found = parts.map(part => need(findPiece(pieces, `${whole}/${part}`, true)))
    const sections = found.flatMap(f => f.section ?? [])
    const [first] = found
    if (!first?.passage || sections.length < found.length)
      return need(problem('sections', parts.join('+'), `sections of ${whole} (gradino piece split)`))
    return { piece: first.in.piece, passage: first.passage, sections, ...(seam && { seam }) }
  })
}

/** The passage that was named, or the only one of its piece. */
export const onePassage = (f: Found<Kept>, name: string): Result<Selection> => {
  const { piece } = f.in
  const passage = f.passage ?? (piece.passages.length === 1 ? piece.passages[0] : undefined)
  if (passage) return ok({ piece, passage, sections: f.section ? [f.section] : [] })
  const names = piece.passages.map(p => `"${piece.title}/${p.name}"`).join(', ')
  return names === ''
    ? wrong(noPassageYet(piece.title))
    : problem('passage', name, `one of its passages: ${names}`)
}

/** By name from the repertoire, or a quick ladder where there is only a goal. */
export const findTarget = async (
  now: Pick<Now, 'kept' | 'damaged' | 'presets' | 'practiced'>,
  name: string | undefined,
  asked: Wishes,
  seam?: Selection['seam'],
): Promise<Result<Target>> => {
  const a = { ...asked, ...usually(now.practiced) }
  if (name === undefined && a.goal !== undefined) return quickTarget({ ...a, goal: a.goal })
  const rhythm = rhythmNamed(await now.presets())
  if (name === undefined) {
    const [one, ...more] = now.kept.flatMap(({ piece }) =>
      piece.passages.map(passage => ({ piece, passage, sections: [] })),
    )
    return one && more.length === 0 ? passageTarget(one, a, rhythm) : wrong(SAY_WHAT)
  }
  const found = findPiece(now.kept, name, true, now.damaged)
  const stretch = found.ok ? onePassage(found.value, name) : (joinOf(now.kept, name, seam) ?? found)
  return stretch.ok ? passageTarget(stretch.value, a, rhythm) : stretch
}
