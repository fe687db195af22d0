import { add, less } from '../../src/music/fraction.ts'
import type { ProposedPassage } from '../../src/score/proposals.ts'
import { readPart } from '../../src/score/read-part.ts'
import type { Part } from '../../src/score/score.ts'
import { must } from '../score/scores.ts'
import type { HardPlace, ReadPart } from './hard-places.ts'
import { openScore } from './scores-by-others.ts'

export const partOf = ({ file, part, movement }: ReadPart): Part => {
  const score = openScore(`${file}.mxl`)
  const found = score.parts.find(p => p.name === part)
  const m = movement === undefined ? undefined : score.movements.find(x => x.name.startsWith(`${movement}.`))
  return must(readPart(score, found?.id ?? '', m))
}

/** Indices of the measures that a proposal is about; the beat that leads on to the next first note is not one. */
export const measuresOf = (part: Part, { from, to }: ProposedPassage): readonly [number, number] => {
  const last = part.measures[to.measure]
  const over = last && to.measure > from.measure && less(to.at, add(last.at, last.length))
  return [from.measure, over ? to.measure - 1 : to.measure]
}

/** Half of the shorter one of the two is enough. */
export const meets = (part: Part, place: HardPlace, proposals: readonly ProposedPassage[]): boolean =>
  [[place.from, place.to] as const, ...(place.again ?? [])].some(range => {
    const [a, b] = range.map(n => part.measures.findIndex(m => m.number === String(n))) as [number, number]
    return proposals.some(p => {
      const [c, d] = measuresOf(part, p)
      const shared = Math.min(b, d) - Math.max(a, c) + 1
      return shared > 0 && 2 * shared >= Math.min(b - a, d - c) + 1
    })
  })
