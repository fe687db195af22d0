import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import {
  decodeKey,
  directionOfKey,
  downKey,
  encodeKey,
  idsOf,
  isEven,
  joinKey,
  type LadderKey,
  quickKey,
  rhythmKey,
  sameMusic,
  seamKey,
  sectionKey,
  TAKES,
  takeKey,
  takenFrom,
  warmUpKey,
} from '../../src/ladder/key.ts'
import { frac } from '../../src/music/fraction.ts'
import { tempo } from '../../src/music/tempo.ts'

/** As journals hold them since the first version: whoever changes one of these texts loses a player's history. */
const FOUR = { meter: { groups: [1, 1, 1, 1], unit: frac(1, 4) }, unit: frac(1, 4) }
test.each([
  [sectionKey('5ec10001'), 'section 5ec10001 even'],
  [rhythmKey(sectionKey('5ec10001'), '3:1'), 'section 5ec10001 3:1'],
  [rhythmKey(sectionKey('5ec10001'), '5:1:1:1/2'), 'section 5ec10001 5:1:1:1/2'],
  [downKey(sectionKey('5ec10001')), 'section 5ec10001 down'],
  [joinKey(['b2', 'a1']), 'join a1+b2 even'],
  [seamKey(['b2', 'a1']), 'seam a1+b2 even'],
  [rhythmKey(joinKey(['a1', 'b2']), '1:3'), 'join a1+b2 1:3'],
  [takeKey('cold', sectionKey('a1')), 'cold section a1 even'],
  [takeKey('silent', downKey(sectionKey('a1'))), 'silent section a1 down'],
  [takeKey('goal', joinKey(['a1', 'b2'])), 'goal join a1+b2 even'],
  [quickKey({ ...FOUR, measures: 4, pickup: null }), 'quick 4/4 x4 none quarter even'],
  [
    takeKey('beat', downKey(quickKey({ ...FOUR, measures: 1, pickup: frac(1, 8) }))),
    'beat quick 4/4 x1 eighth quarter down',
  ],
  [
    warmUpKey({ warmUp: 'mornings', item: 'One scale', key: 'Bb major', tempo: tempo(66) }),
    'warmup mornings One_scale Bb_major 66',
  ],
  [
    warmUpKey({ warmUp: 'mornings', item: 'Long tones', key: null, tempo: tempo(60) }),
    'warmup mornings Long_tones - 60',
  ],
])('a journal holds "%s"', (key, text) => {
  expect(key).toBe(text)
})

const id = fc.stringMatching(/^[a-z0-9]{1,8}$/)
const rhythm = fc.constantFrom('3:1', '1:3', '1:1:1:3', '5:1:1:1/2')
const way = fc.record({
  take: fc.constantFrom(null, ...TAKES),
  how: fc.oneof(
    fc.record({ rhythm: fc.oneof(fc.constant('even'), rhythm), direction: fc.constant('up' as const) }),
    fc.constant({ rhythm: 'even', direction: 'down' as const }),
  ),
})
const music = fc.oneof(
  fc.record({ kind: fc.constant('section' as const), id }),
  fc.record({
    kind: fc.constantFrom('join' as const, 'seam' as const),
    ids: fc.array(id, { minLength: 2, maxLength: 5 }),
  }),
  fc.record({
    kind: fc.constant('quick' as const),
    meter: fc.constantFrom('4/4', '6/8', '2+2+3/8', '3+2/8'),
    measures: fc.integer({ min: 1, max: 999 }),
    pickup: fc.constantFrom(null, 'eighth', 'dotted-quarter', '5/16'),
    unit: fc.constantFrom('quarter', 'dotted-quarter', 'half'),
  }),
)
const words = fc
  .array(fc.stringMatching(/^[A-Za-z,]{1,7}$/), { minLength: 1, maxLength: 3 })
  .map(w => w.join(' '))
const key: fc.Arbitrary<LadderKey> = fc.oneof(
  fc.tuple(music, way).map(([m, { take, how }]): LadderKey => ({ ...m, ...how, take })),
  fc.record({
    kind: fc.constant('warm-up' as const),
    warmUp: id,
    item: words,
    key: fc.option(words),
    tempo: fc.integer({ min: 20, max: 400 }).map(tempo),
  }),
)
/** Texts as a damaged or a newer journal may hold them, many of them nearly right. */
const anyText = fc.oneof(
  fc.string(),
  fc
    .array(
      fc.constantFrom(
        'section',
        'join',
        'seam',
        'quick',
        'warmup',
        ...TAKES,
        'even',
        'down',
        '3:1',
        'a',
        'a+b',
        '',
        '4/4',
        'x1',
        'x01',
        'none',
        'quarter',
        '60',
        '-',
        '60.0',
      ),
      { maxLength: 8 },
    )
    .map(w => w.join(' ')),
)

describe('a key of the journal', () => {
  it('is read back as what was written', () => {
    fc.assert(
      fc.property(key, k => {
        expect(decodeKey(encodeKey(k))).toEqual(k)
      }),
      { numRuns: 1000 },
    )
  })

  it('is written back to the letter, whatever text a journal holds', () => {
    fc.assert(
      fc.property(anyText, s => {
        expect(encodeKey(decodeKey(s))).toBe(s)
      }),
      { numRuns: 2000 },
    )
  })

  it('tells a take from its ladder, and gives the ladder back', () => {
    fc.assert(
      fc.property(key, fc.constantFrom(...TAKES), (k, take) => {
        const ladder = encodeKey(k.kind === 'warm-up' ? k : { ...k, take: null })
        const taken = takenFrom(takeKey(take, ladder))
        expect(taken).toEqual(k.kind === 'warm-up' ? { take: null, ladder } : { take, ladder })
      }),
    )
  })

  it('says which passage or sections it is of, in which direction, and whether in even rhythm', () => {
    const join = joinKey(['b2', 'a1'])
    expect(idsOf(takeKey('cold', join))).toEqual(['a1', 'b2'])
    expect(idsOf(quickKey({ ...FOUR, measures: 1, pickup: null }))).toEqual([])
    expect(directionOfKey(takeKey('cold', downKey(join)))).toBe('down')
    expect([join, downKey(join), rhythmKey(join, '3:1')].map(isEven)).toEqual([true, false, false])
  })

  it('is of the same music in every rhythm, but not as a take or of other sections', () => {
    const one = sectionKey('a1')
    expect(sameMusic(rhythmKey(one, '3:1'), one)).toBe(true)
    expect(sameMusic(downKey(one), one)).toBe(true)
    expect(sameMusic(takeKey('cold', one), one)).toBe(false)
    expect(sameMusic(sectionKey('a12'), one)).toBe(false)
  })
})
