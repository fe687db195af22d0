import { expect, test } from 'vitest'
import { add, less } from '../../src/music/fraction.ts'
import { type ProposedPassage, proposePassages } from '../../src/score/proposals.ts'
import { readPart } from '../../src/score/read-part.ts'
import { readScore } from '../../src/score/read-score.ts'
import type { Part } from '../../src/score/score.ts'
import { must } from '../score/scores.ts'
import { HARD_PLACES, type HardPlace, type ReadPart } from './hard-places.ts'
import { scoreBytes } from './scores-by-others.ts'

const partOf = ({ file, part, movement }: ReadPart): Part => {
  const score = must(readScore(scoreBytes('openscore', `${file}.mxl`), file))
  const found = score.parts.find(p => p.name === part)
  const m = movement === undefined ? undefined : score.movements.find(x => x.name.startsWith(`${movement}.`))
  return must(readPart(score, found?.id ?? '', m))
}

/** Indices of the measures that a proposal is about; the beat that leads on to the next first note is not one. */
const measuresOf = (part: Part, { from, to }: ProposedPassage): readonly [number, number] => {
  const last = part.measures[to.measure]
  const over = last && to.measure > from.measure && less(to.at, add(last.at, last.length))
  return [from.measure, over ? to.measure - 1 : to.measure]
}

/** Half of the shorter one of the two is enough. */
const meets = (part: Part, place: HardPlace, proposals: readonly ProposedPassage[]): boolean =>
  [[place.from, place.to] as const, ...(place.again ?? [])].some(range => {
    const [a, b] = range.map(n => part.measures.findIndex(m => m.number === String(n))) as [number, number]
    return proposals.some(p => {
      const [c, d] = measuresOf(part, p)
      const shared = Math.min(b, d) - Math.max(a, c) + 1
      return shared > 0 && 2 * shared >= Math.min(b - a, d - c) + 1
    })
  })

test('the two hardest places of a part, as read by hand, are among the first three proposals in 16 of 20 parts', () => {
  const missed = HARD_PLACES.filter(one => {
    const part = partOf(one)
    const first = proposePassages(part).slice(0, 3)
    return !one.places.every(place => meets(part, place, first))
  })
  expect(HARD_PLACES.length).toBe(20)
  expect(missed.map(one => `${one.file} ${one.part}`).length).toBeLessThanOrEqual(4)
}, 180_000)

test('at most eight proposals, each of two to eight measures', () => {
  for (const one of HARD_PLACES) {
    const part = partOf(one)
    const proposals = proposePassages(part)
    expect(proposals.length).toBeGreaterThan(1)
    expect(proposals.length).toBeLessThanOrEqual(8)
    for (const p of proposals) {
      const [a, b] = measuresOf(part, p)
      expect(b - a + 1).toBeLessThanOrEqual(9)
      expect(p.why).toMatch(/\S/)
    }
  }
}, 180_000)
