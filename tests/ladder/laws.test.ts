import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ceilings, fold } from '../../src/ladder/fold.ts'
import { eventsOf, hostile, type Source, scripted } from './generators.ts'
import { LAWS } from './laws.ts'
import { type Happened, recount } from './recount.ts'

const ladder = { fold, ceilings }
const RUNS = 300

describe('the laws of the ladder', () => {
  it.each(LAWS.map(law => [law.says, law] as const))('%s', (_, law) => {
    fc.assert(law.of(ladder), { numRuns: RUNS })
  })
})

describe('the visits that the laws are tried on', () => {
  // Laws hold emptily where nothing happens: hundreds of visits must rise, fall and reach ceilings by the hundred.
  const happenings = (source: fc.Arbitrary<Source>): Happened & { events: number } => {
    const happened = { rises: 0, falls: 0, lowest: 0, ceilings: 0, goals: 0, found: 0 }
    const visits = fc.sample(source, { numRuns: RUNS, seed: 919 }).map(visit => eventsOf(ladder, visit))
    for (const events of visits) recount(ladder, events, happened)
    return { ...happened, events: visits.reduce((sum, v) => sum + v.length, 0) }
  }

  it.each([
    ['scripts', scripted(), { rises: 240, falls: 120, lowest: 120, ceilings: 180, goals: 150, found: 15 }],
    [
      'hostile events',
      hostile().map(raw => ({ raw })),
      { rises: 60, falls: 9, lowest: 12, ceilings: 60, goals: 15, found: 9 },
    ],
  ] as const)('%s rise, fall, reach ceilings and goals, and find their start', (_, source, least) => {
    const h = happenings(source)
    expect(h.events / RUNS).toBeGreaterThan(25)
    for (const what of Object.keys(least) as (keyof Happened)[])
      expect({ what, times: h[what] }).toSatisfy(({ times }) => times >= least[what])
  })
})
