import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ceilings, fold } from '../../src/ladder/fold.ts'
import { eventsOf, hostile, type Source, scripted } from './generators.ts'
import { LAWS } from './laws.ts'
import { type Happened, recount } from './recount.ts'

const ladder = { fold, ceilings }
const RUNS = 150

describe('the laws of the ladder', () => {
  it.each(LAWS.map(law => [law.says, law] as const))('%s', (_, law) => {
    fc.assert(law.of(ladder), { numRuns: RUNS })
  })
})

describe('the visits that the laws are tried on', () => {
  // Laws hold emptily where nothing happens: hundreds of visits must rise, fall and reach ceilings by the dozen.
  const happenings = (source: fc.Arbitrary<Source>): Happened & { events: number } => {
    const happened = { rises: 0, falls: 0, lowest: 0, ceilings: 0, goals: 0, found: 0 }
    const visits = fc.sample(source, { numRuns: RUNS, seed: 919 }).map(visit => eventsOf(ladder, visit))
    for (const events of visits) recount(ladder, events, happened)
    return { ...happened, events: visits.reduce((sum, v) => sum + v.length, 0) }
  }

  it.each([
    ['scripts', scripted(), { rises: 120, falls: 60, lowest: 60, ceilings: 90, goals: 75, found: 7 }],
    [
      'hostile events',
      hostile().map(raw => ({ raw })),
      { rises: 30, falls: 4, lowest: 6, ceilings: 30, goals: 7, found: 4 },
    ],
  ] as const)('%s rise, fall, reach ceilings and goals, and find their start', (_, source, least) => {
    const h = happenings(source)
    expect(h.events / RUNS).toBeGreaterThan(25)
    for (const what of Object.keys(least) as (keyof Happened)[])
      expect({ what, times: h[what] }).toSatisfy(({ times }) => times >= least[what])
  })
})
