import { describe, expect, test } from 'vitest'
import type { Visit } from '../../src/ladder/history.ts'
import { joinKey, sectionKey, takeKey } from '../../src/ladder/key.ts'
import { placeWords } from '../../src/music/place.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import { stopRows, stopsAt, stopsIn, stopsText } from '../../src/plan/stops.ts'
import type { Note, Wrong } from '../../src/repertoire/note.ts'
import type { Passage } from '../../src/repertoire/piece.ts'

type Stops = readonly (readonly [place: string, bpm: number])[]

/** A visit of a day in March in which the music was stopped at these places, at these tempos. */
const visit = (stops: Stops, key = sectionKey('run'), day = 14): Visit => ({
  id: `${key} ${day}`,
  key,
  time: `2031-03-${String(day).padStart(2, '0')}T17:00:00.000Z`,
  offset: 60,
  clean: 6,
  verdicts: 6 + stops.length,
  played: 6 + stops.length,
  seconds: 300,
  ceiling: null,
  goal: false,
  last: null,
  rule: '3-in-a-row',
  stops: stops.map(([place, bpm]) => ({ place, tempo: tempo(bpm) })),
  air: null,
})

const wrong = (what: Wrong, place?: string, key = sectionKey('run'), day = 14): Note => ({
  id: `desk0001-${String(day).padStart(6, '0')}`,
  time: `2031-03-${String(day).padStart(2, '0')}T17:00:00.000Z`,
  offset: 60,
  kind: 'wrong',
  text: '',
  what,
  key,
  ...(place === undefined ? {} : { place }),
})

const twelve: Stops = [
  ...Array.from({ length: 7 }, (_, i) => ['43.2', 108 + 4 * (i % 3)] as const),
  ['41.3', 96],
  ['41.3', 100],
  ['42.1', 104],
  ['44.4', 104],
  ['44.1', 112],
]

describe('where it breaks, in one sentence', () => {
  const said = (stops: Stops, notes: readonly Note[] = []) => stopsText(stopsAt([visit(stops)], notes))

  test('the place of most stops, out of all, from which tempo on, and what they were', () => {
    const notes = [...Array(4).fill('rhythm'), ...Array(2).fill('notes')].map(w => wrong(w, '43.2'))
    expect(said(twelve, notes)).toBe(
      'breaks most in m. 43, beat 2: 7 of 12 stops, from quarter = 108 up; kind: rhythm 4, notes 2',
    )
  })

  test('of one stop nobody says what kind it is, since it may be none of those that were noted', () => {
    expect(said([['43.2', 108]], [wrong('rhythm', '43.2')])).toBe(
      'one stop, in m. 43, beat 2, at quarter = 108; slips noted: rhythm 1',
    )
  })

  test('slips of whole repetitions have a kind and no place', () => {
    expect(said(twelve, [wrong('rhythm', '43.2'), wrong('breath')])).toMatch(
      /; kind: rhythm 1; slips noted: rhythm 1, breath 1$/,
    )
    expect(said([], [wrong('sound')])).toBe('no stops; slips noted: sound 1')
    // Most first, whatever came first.
    const most = ['bow', 'rhythm', 'notes', 'rhythm', 'notes', 'rhythm'] as const
    expect(
      said(
        [],
        most.map(w => wrong(w)),
      ),
    ).toBe('no stops; slips noted: rhythm 3, notes 2, bow 1')
  })

  test.each<[string, Stops, string]>([
    ['nothing', [], ''],
    ['one stop', [['43.2', 108]], 'one stop, in m. 43, beat 2, at quarter = 108'],
    [
      'always the same place',
      [
        ['43.2', 108],
        ['43.2', 112],
      ],
      'breaks in m. 43, beat 2: both stops, from quarter = 108 up',
    ],
    [
      'never twice the same, in the order of the music',
      [
        ['43.2', 108],
        ['9.1', 112],
        ['43', 108],
        ['44+3/8', 96],
      ],
      '4 stops, each at another place: m. 9, beat 1; m. 43; m. 43, beat 2; 1 more',
    ],
    [
      'two places alike',
      [
        ['43.2', 108],
        ['43.2', 112],
        ['41.1', 108],
        ['41.1', 112],
        ['44.4', 108],
      ],
      'breaks most in 2 places, 2 of 5 stops each: m. 41, beat 1; m. 43, beat 2',
    ],
  ])('%s', (_, stops, text) => {
    expect(said(stops)).toBe(text)
  })
})

const PASSAGE: Passage = {
  id: 'run',
  name: 'run',
  measures: '41-44',
  meter: '4/4',
  count: 4,
  pickup: null,
  goal: '138',
  sections: [
    { id: 'one', name: '1', from: '41', to: '43' },
    { id: 'two', name: '2', from: '43', to: 'end' },
  ],
}
const [one = null, two = null] = PASSAGE.sections ?? []
const TODAY = '2031-03-15'

describe('a place belongs to its section', () => {
  const places = (section: typeof one, visits: readonly Visit[], notes: readonly Note[] = []) =>
    stopsIn({ passage: PASSAGE, section }, visits, notes, TODAY).all.places.map(p => [
      p.place,
      p.stops,
      p.wrongs.length,
    ])

  test('whatever was played when the music stopped there: the section, the join, the passage, a take', () => {
    const all = [
      visit([['43.2', 100]], sectionKey('two')),
      visit(
        [
          ['43.2', 100],
          ['42.4', 100],
        ],
        joinKey(['one', 'two']),
      ),
      visit([['43.2', 100]], sectionKey('run')),
      visit([['43.2', 100]], takeKey('cold', sectionKey('two'))),
    ]
    expect(places(two, all)).toEqual([['43.2', 4, 0]])
    expect(places(one, all)).toEqual([['42.4', 1, 0]])
    expect(places(null, all)).toEqual([
      ['43.2', 4, 0],
      ['42.4', 1, 0],
    ])
  })

  test('what was stopped in the section itself counts, though its measures were called otherwise then', () => {
    const place = [visit([['99.1', 100]], sectionKey('two')), visit([['99.1', 100]], sectionKey('run'))]
    expect(places(two, place)).toEqual([['99.1', 1, 0]])
  })

  test('altered rhythms, ladders that lead down and other music are left out', () => {
    const all = [
      'section two 3:1',
      'section two down',
      sectionKey('other'),
      'quick 4/4 x2 none quarter even',
    ].map(key => visit([['43.2', 60]], key))
    expect(places(two, all)).toEqual([])
  })

  test('a note of the passage belongs to the section of its place, one without a place to what it is about', () => {
    const notes = [wrong('rhythm', '43.2', sectionKey('run')), wrong('breath', undefined, sectionKey('run'))]
    expect(places(two, [], notes)).toEqual([['43.2', 0, 1]])
    expect(stopsIn({ passage: PASSAGE, section: two }, [], notes, TODAY).all.wrongs).toEqual(['rhythm'])
  })

  test('the last two weeks are fourteen days, today among them', () => {
    const lately = (day: number) =>
      stopsIn(
        { passage: PASSAGE, section: null },
        [visit([['43.2', 100]], sectionKey('run'), day)],
        [],
        TODAY,
      ).lately.stops
    expect([1, 2, 15].map(day => lately(day))).toEqual([0, 1, 1])
  })
})

test('in the table a place stands once for a passage, and altered rhythms on their own', () => {
  const rows = stopRows(
    [visit([['43.2', 100]], 'one'), visit([['43.2', 120]], 'two'), visit([['43.2', 60]], 'rhythm')],
    [wrong('rhythm', '43.2', 'two')],
    key => (key === 'rhythm' ? 'run, rhythm 3:1' : 'run'),
    () => null,
  )
  expect(rows.map(r => [r.label, r.stops, r.tempos?.map(typed), r.wrongs])).toEqual([
    ['run', 2, ['100', '120'], ['rhythm']],
    ['run, rhythm 3:1', 1, ['60', '60'], []],
  ])
})

test('in the table places with most stops come first, then those with most notes, whatever they belong to', () => {
  const rows = stopRows(
    [
      visit(
        [
          ['41.1', 90],
          ['43.2', 100],
          ['43.2', 104],
        ],
        'one',
      ),
      visit([['44.1', 90]], 'two'),
      visit([], 'three'),
    ],
    [wrong('rhythm', '44.1', 'two'), wrong('bow', '42.1', 'three')],
    key => key,
    () => null,
  )
  expect(rows.map(r => [r.label, r.place])).toEqual([
    ['one', '43.2'],
    ['two', '44.1'],
    ['one', '41.1'],
    ['three', '42.1'],
  ])
})

test.each([
  ['43', 'm. 43'],
  ['43.2', 'm. 43, beat 2'],
  ['43(2).1', 'm. 43, second time, beat 1'],
  ['43+1/2', 'm. 43, a half after the bar line'],
  ['43+3/16', 'm. 43, 3 sixteenths after the bar line'],
  ['43+1/12', 'm. 43, 1/12 of a whole note after the bar line'],
  ['X1.2', 'm. X1, beat 2'],
  ['letter C', 'letter C'],
])('the place %s is said as "%s"', (place, said) => {
  expect(placeWords(place)).toBe(said)
})
