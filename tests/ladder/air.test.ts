import { describe, expect, test } from 'vitest'
import type { Body, Event } from '../../src/ladder/event.ts'
import { airOf, LEAST_AIR, longestClean, MOST_AIR } from '../../src/ladder/history.ts'
import { sectionKey, takeKey } from '../../src/ladder/key.ts'
import { tempo } from '../../src/music/tempo.ts'

const event = (n: number, body: Body): Event => ({
  ...body,
  id: `s-${n}`,
  session: 's',
  n,
  visit: 's-1',
  time: '2031-03-14T18:00:00.000Z',
  offset: 60,
})
const judged = (n: number, air: number | null, how: { whole?: boolean; clean?: boolean } = {}): Event =>
  event(n, {
    kind: 'verdict',
    rep: n,
    tempo: tempo(96),
    whole: true,
    clean: true,
    ...how,
    ...(air === null ? {} : { air }),
  })

describe('the longest breath that was done clean', () => {
  test('is the greatest of a visit: of whole repetitions, that were clean, and were not taken back', () => {
    expect(airOf([judged(2, 5.22), judged(3, 7.5), judged(4, 6)])).toBe(7.5)
    expect(airOf([judged(2, 5.22), judged(3, 7.5, { clean: false })])).toBe(5.22)
    expect(airOf([judged(2, 5.22), judged(3, 7.5, { whole: false })])).toBe(5.22)
    expect(airOf([judged(2, 5.22), judged(3, 7.5), event(4, { kind: 'takeBack', of: 's-3' })])).toBe(5.22)
  })

  test('is not known from older journals, nor where nothing was clean', () => {
    expect(airOf([judged(2, null), judged(3, null)])).toBeNull()
    expect(airOf([])).toBeNull()
  })

  test('is the greatest of everything that was played; without a sound no breath is needed', () => {
    const key = sectionKey('weir')
    const done = [
      { key, air: 5.22 },
      { key: takeKey('cold', key), air: 7.5 },
      { key: takeKey('silent', key), air: 12 },
      { key: sectionKey('mill'), air: null },
    ]
    expect(longestClean(done)).toBe(7.5)
    expect(longestClean(done.slice(2))).toBeNull()
    expect([LEAST_AIR, MOST_AIR]).toEqual([0.01, 600])
  })
})
