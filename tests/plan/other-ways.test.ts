import { describe, expect, test } from 'vitest'
import { historiesOf, type Visit } from '../../src/ladder/history.ts'
import { downKey, joinKey, rhythmKey, seamKey, sectionKey, takeKey } from '../../src/ladder/key.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import { otherWayJson, otherWays, otherWayText } from '../../src/plan/other-ways.ts'
import { partsOf } from '../../src/plan/works.ts'
import type { Passage, Piece } from '../../src/repertoire/piece.ts'
import { overture } from '../store/scene.ts'
import { played } from './played.ts'

const [, run] = overture.passages as [Passage, Passage]
const sections = [
  { id: 's0000001', name: '1', from: '41', to: '42' },
  { id: 's0000002', name: '2', from: '42', to: '43' },
  { id: 's0000003', name: '3', from: '43', to: 'end' },
]
const piece: Piece = { ...overture, passages: [{ ...run, sections }] }
const [ONE, TWO, THREE] = ['s0000001', 's0000002', 's0000003'].map(sectionKey) as [string, string, string]
const [DAY, TODAY] = ['2031-03-12', '2031-03-14']

const ways = (visits: readonly Visit[], key: string, alone = false) => {
  const all = historiesOf(visits)
  const part = partsOf(all, [piece]).find(p => p.ladder.key === key)
  return part ? otherWays(all, part, alone) : []
}

describe('what was played of a section beside its even ladder', () => {
  test('rhythms first, then downward, takes, and what it was joined with; its ladder and its cold takes are told elsewhere', () => {
    const join = joinKey(['s0000001', 's0000002'])
    const keys = [
      join,
      takeKey('silent', TWO),
      downKey(TWO),
      rhythmKey(TWO, '10:1'),
      rhythmKey(TWO, '3:1'),
      TWO,
      takeKey('cold', TWO),
      takeKey('cold', rhythmKey(TWO, '3:1')),
      takeKey('through', TWO),
      ONE,
    ]
    expect(
      ways(
        keys.map(k => played(k, DAY)),
        TWO,
      ).map(w => w.label),
    ).toEqual([
      'rhythm 3:1',
      'rhythm 10:1',
      'downward',
      'last time through',
      'rhythm 3:1, cold',
      'without a sound',
      'section 1+2',
    ])
  })

  test('a join is told under the last of its sections, or under any that is looked at alone', () => {
    const all = [
      ['s0000001', 's0000002'],
      ['s0000002', 's0000003'],
    ] as const
    const visits = [...all.map(ids => played(joinKey(ids), DAY)), played(seamKey(all[0]), DAY)]
    const labels = (key: string, alone = false) => ways(visits, key, alone).map(w => w.label)
    expect([ONE, TWO, THREE].map(k => labels(k))).toEqual([
      [],
      ['seam of 1+2', 'section 1+2'],
      ['section 2+3'],
    ])
    expect(labels(ONE, true)).toEqual(['seam of 1+2', 'section 1+2'])
    expect(labels(TWO, true)).toEqual(['seam of 1+2', 'section 1+2', 'section 2+3'])
  })

  test('counts what was judged, with the hardest tempo and the last day; what was never judged is no line', () => {
    const key = rhythmKey(ONE, '3:1')
    const visits = [
      played(key, '2031-03-13', { clean: 2, verdicts: 5, ceiling: 60 }),
      played(key, DAY, { clean: 3, verdicts: 3, ceiling: 66 }),
      played(key, TODAY, { clean: 0, verdicts: 0 }),
      played(downKey(ONE), DAY, { verdicts: 0 }),
    ]
    const [way, ...more] = ways(visits, ONE)
    expect(more).toEqual([])
    expect(way).toMatchObject({ clean: 5, verdicts: 8, last: '2031-03-13' })
    expect(way?.ceiling && typed(way.ceiling)).toBe('66')
    expect(way && otherWayJson(way)).toEqual({
      key,
      label: 'rhythm 3:1',
      clean: 5,
      verdicts: 8,
      ceiling: '66',
      last: '2031-03-13',
    })
  })
})

describe('in a sentence', () => {
  const said = (key: string, other: Parameters<typeof played>[2] = {}, section = ONE) => {
    const [way] = ways([played(key, DAY, other)], section)
    return way && otherWayText(way, tempo(120), TODAY)
  }
  const counted = '3 of 4 clean, last March 12'

  test.each([
    [rhythmKey(ONE, '3:1'), 56, `rhythm 3:1: click 56, quick notes as at 112; ${counted}`],
    [rhythmKey(ONE, '3:1'), undefined, `rhythm 3:1: no ceiling yet; ${counted}`],
    [downKey(ONE), 56, `downward: slowest quarter = 56; ${counted}`],
    [takeKey('silent', ONE), 88, `without a sound: up to quarter = 88; ${counted}`],
    [takeKey('entry', ONE), undefined, `from the entrance: ${counted}`],
    // At the goal everyone knows the tempo.
    [takeKey('goal', ONE), 120, `at the goal: ${counted}`],
    [takeKey('beat', ONE), 120, `one beat at the goal: ${counted}`],
  ])('%s', (key, ceiling, text) => {
    expect(said(key, ceiling === undefined ? {} : { ceiling })).toBe(text)
  })

  test('of a join the ceiling; of today "today"', () => {
    expect(said(joinKey(['s0000001', 's0000002']), { ceiling: 96 }, TWO)).toBe(
      `section 1+2: ceiling quarter = 96; ${counted}`,
    )
    const [way] = ways([played(downKey(ONE), TODAY)], ONE)
    expect(way && otherWayText(way, tempo(120), TODAY)).toBe(
      'downward: no ceiling yet; 3 of 4 clean, last today',
    )
  })
})
