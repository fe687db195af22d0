import { beforeAll, describe, expect, test } from 'vitest'
import { type ProposedPassage, proposePassages } from '../../src/score/proposals.ts'
import type { Part } from '../../src/score/score.ts'
import { measuresOf, meets, partOf } from './hard-hits.ts'
import { HARD_PLACES } from './hard-places.ts'

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
