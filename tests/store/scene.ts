import fc from 'fast-check'
import type { Body } from '../../src/ladder/event.ts'
import { frac } from '../../src/music/fraction.ts'
import type { Piece } from '../../src/repertoire/piece.ts'
import { type Home, homeAt } from '../../src/store/home.ts'
import { newFolder } from '../folders.ts'

/** An empty home in a folder of its own, gone after the tests of the file. */
export const newHome = (): Home => homeAt(newFolder())

/** Random names that are the same in every run. */
export const names = (word = 'name') => {
  let i = 0
  return () => `${word}${String(++i).padStart(4, '0')}`
}

/** A Saturday afternoon an hour east of Greenwich. */
export const AFTERNOON = Date.UTC(2026, 2, 14, 15, 0)
export const sources = (word?: string, wall = AFTERNOON) => ({
  wall: () => wall,
  offset: () => 60,
  chance: names(word),
})

export const overture: Piece = {
  v: 2,
  id: 'a1b2c3d4',
  title: 'Weir Street Overture',
  readyBy: '2026-04-02',
  passages: [
    {
      id: 'p0000001',
      name: 'opening',
      measures: '1-8',
      meter: '4/4',
      count: 8,
      pickup: 'eighth',
      start: '80',
      goal: '126',
    },
    {
      id: 'p0000002',
      name: 'run at the weir',
      measures: '41-44',
      meter: '6/8',
      count: 4,
      pickup: null,
      goal: 'dotted-quarter=92',
      readyBy: '2026-03-28',
      note: 'crescendo into 43',
    },
  ],
}

const anyTempo = fc
  .record({
    dots: fc.constantFrom(2, 3),
    under: fc.constantFrom(4, 8, 16),
    n: fc.integer({ min: 1, max: 99_900 }),
  })
  .map(t => ({ unit: frac(t.dots, 2 * t.under), bpm: frac(t.n, 100) }))

/** What may happen in a visit after its opening. */
export const happening: fc.Arbitrary<Body> = fc.oneof(
  fc
    .record({
      rep: fc.nat(500),
      tempo: anyTempo,
      whole: fc.boolean(),
      clean: fc.boolean(),
      place: fc.string(),
      air: fc.constantFrom(null, 0.01, 5.22, 7.5, 12, 600),
    })
    .map(({ place, air, ...v }) => ({
      kind: 'verdict' as const,
      ...v,
      ...(place.length > 3 ? { place } : {}),
      ...(air === null ? {} : { air }),
    })),
  fc.record({
    kind: fc.constant('unjudged' as const),
    rep: fc.nat(500),
    tempo: anyTempo,
    why: fc.constantFrom('silent' as const, 'unclear' as const, 'interrupted' as const),
  }),
  fc.record({ kind: fc.constant('move' as const), to: anyTempo }),
  fc.record({
    kind: fc.constant('takeBack' as const),
    of: fc.constantFrom('name0002-000002', 'name0002-000003'),
  }),
)
