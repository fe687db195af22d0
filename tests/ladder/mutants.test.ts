import { AssertionError } from 'node:assert'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { FAULTS } from './faults.ts'
import { LAWS } from './laws.ts'
import type { Ladder } from './live.ts'

/** Every law a few times, then the rare cases. Seeded, so that a fault dies every time or never. */
const RUNS = [20, 300]

/** The first law that is found broken, or null. That the true ladder breaks none is what the laws' own tests say. */
const broken = (ladder: Ladder): string | null => {
  for (const numRuns of RUNS)
    for (const law of LAWS) {
      const tried = fc.check(law.of(ladder), { seed: 919, numRuns, endOnFailure: true })
      // A ladder that merely breaks down proves nothing about the law.
      if (tried.failed && !(tried.errorInstance instanceof AssertionError)) throw tried.errorInstance
      if (tried.failed) return law.says
    }
  return null
}

describe('a fault planted in the ladder breaks a law', () => {
  it.each(FAULTS)('%s', (_, ladder) => {
    expect(broken(ladder)).not.toBeNull()
  })
})
