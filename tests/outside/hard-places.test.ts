import { beforeAll, describe, expect, test } from 'vitest'
import { add, less } from '../../src/music/fraction.ts'
import { type ProposedPassage, proposePassages } from '../../src/score/proposals.ts'
import { readPart } from '../../src/score/read-part.ts'
import type { Part } from '../../src/score/score.ts'
import { must } from '../score/scores.ts'
import { HARD_PLACES, type HardPlace, type ReadPart } from './hard-places.ts'
import { openScore } from './scores-by-others.ts'

const partOf = ({ file, part, movement }: ReadPart): Part => {
  const score = openScore(`${file}.mxl`)
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

// Source: OpenScore (see scores/README.md). What is hardest is one person's reading: no source.
describe('twenty parts whose hardest places were marked by hand', () => {
  let all: readonly { one: (typeof HARD_PLACES)[number]; part: Part; proposals: readonly ProposedPassage[] }[]
  beforeAll(() => {
    all = HARD_PLACES.map(one => {
      const part = partOf(one)
      return { one, part, proposals: proposePassages(part) }
    })
  })

  test('the two hardest places of a part are among the first three proposals in 16 of 20 parts', () => {
    const missed = all.filter(
      ({ one, part, proposals }) => !one.places.every(place => meets(part, place, proposals.slice(0, 3))),
    )
    expect(all.length).toBe(20)
    expect(missed.map(({ one }) => `${one.file} ${one.part}`).length).toBeLessThanOrEqual(4)
  })

  test('at most eight proposals, each of two to eight measures', () => {
    for (const { part, proposals } of all) {
      expect(proposals.length).toBeGreaterThan(1)
      expect(proposals.length).toBeLessThanOrEqual(8)
      for (const p of proposals) {
        const [a, b] = measuresOf(part, p)
        expect(b - a + 1).toBeLessThanOrEqual(9)
        expect(p.why).toMatch(/\S/)
      }
    }
  })
})
