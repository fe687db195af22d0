import { describe, expect, test } from 'vitest'
import { historiesOf, type Visit } from '../../src/ladder/history.ts'
import { downKey, joinKey, rhythmKey, sectionKey, takeKey } from '../../src/ladder/key.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import { weeksOf } from '../../src/plan/diary-days.ts'
import { otherWayText } from '../../src/plan/other-ways.ts'
import { namesOf } from '../../src/plan/practiced-names.ts'
import { othersOf, partsOf, passageLabel, playedIn, sectionStops } from '../../src/plan/report-figures.ts'
import type { Note } from '../../src/repertoire/note.ts'
import type { Passage } from '../../src/repertoire/piece.ts'
import { overture } from '../store/scene.ts'
import { played } from './played.ts'

const RUN = sectionKey('p0000002')
const MONDAY = '2031-03-10'

const visit = (key: string, day: string, n: number, verdicts = n): Visit =>
  played(key, day, { clean: verdicts, verdicts, played: n, seconds: 60 })

describe('the figures of a report', () => {
  test('a day on which nothing was played to its end is no day of practice, and takes no minutes', () => {
    const visits = [visit(RUN, MONDAY, 4), visit(RUN, '2031-03-11', 1), visit(RUN, '2031-03-12', 0)]
    expect(playedIn(visits)).toEqual({ days: 2, seconds: 120 })
  })

  test('name what was judged beside the ladders, once is enough, and nothing that was not', () => {
    const down = downKey(RUN)
    const others = (...visits: readonly Visit[]) => othersOf(visits, overture, []).length
    expect(others(visit(down, MONDAY, 1))).toBe(1)
    expect(others(visit(down, MONDAY, 3, 0))).toBe(0)
    expect(others(visit(down, MONDAY, 1), visit(down, '2031-03-11', 2))).toBe(1)
  })
})

test('of a ladder that leads down the slowest is told, of one that leads up the ceiling', () => {
  const told = (key: string) =>
    otherWayText(
      {
        key,
        label: 'it',
        named: namesOf([overture])(key),
        clean: 3,
        verdicts: 4,
        ceiling: tempo(60),
        last: MONDAY,
      },
      tempo(120),
      MONDAY,
    )
  expect(told(downKey(RUN))).toMatch(/^it: slowest quarter = 60; 3 of 4 clean, last today$/)
  expect(told(RUN)).toMatch(/^it: ceiling quarter = 60; 3 of 4 clean, last today$/)
})

test('the week that is under way has as many days as have come: one on its Monday, seven on its Sunday', () => {
  const lengths = [0, 1, 5, 6].map(
    n => weeksOf([], MONDAY, `2031-03-${10 + n}`).find(w => w.from === MONDAY)?.length,
  )
  expect(lengths).toEqual([1, 2, 6, 7])
})

describe('of each passage and section in a period', () => {
  const sections = [
    { id: 's0000001', name: '1', from: '41', to: '43' },
    { id: 's0000002', name: '2', from: '43', to: 'end' },
  ]
  const [opening, run] = overture.passages as [Passage, Passage]
  const cut: Passage = { ...run, sections }
  const [ONE, TWO] = sections.map(s => sectionKey(s.id)) as [string, string]
  const NOW = { wall: Date.parse('2031-03-20T18:00:00Z'), offset: 0 }
  const PERIOD = { from: MONDAY, to: '2031-03-16' }
  const parts = (passages: readonly Passage[], ...visits: readonly Visit[]) =>
    partsOf(historiesOf(visits), { ...overture, passages }, passages, PERIOD, NOW)

  test('the passage, then its sections; one of which only sections were ever played is no row', () => {
    const labels = (...visits: readonly Visit[]) => parts([opening, cut], ...visits).map(p => p.label)
    const all = [
      'opening, m. 1-8',
      'run at the weir, m. 41-44',
      'run at the weir, m. 41-44, section 1',
      'run at the weir, m. 41-44, section 2',
    ]
    expect(labels()).toEqual(all)
    expect(labels(played(ONE, MONDAY))).toEqual(all.filter((_, i) => i !== 1))
    expect(labels(played(TWO, MONDAY))).toEqual(all.filter((_, i) => i !== 1))
    expect(labels(played(ONE, MONDAY), played(RUN, MONDAY))).toEqual(all)
  })

  test('verdicts of the period alone, its first and last day among them; the ceiling as it stands', () => {
    const days = ['2031-03-09', MONDAY, '2031-03-16', '2031-03-17']
    const [row] = parts([run], ...days.map((d, i) => played(RUN, d, { ceiling: 60 + 4 * i })))
    expect(row).toMatchObject({ clean: 6, verdicts: 8, ready: false, secure: null })
    expect(row?.ceiling && typed(row.ceiling)).toBe('72')
    // After the first day of the period it was 64.
    expect(row?.first && typed(row.first)).toBe('64')
  })

  test('the first ceiling is the highest of all up to the first day that has one; null where nothing was played', () => {
    const first = (...visits: readonly Visit[]) => {
      const [row] = parts([run], ...visits)
      return row?.first && typed(row.first)
    }
    expect(first(played(RUN, '2031-03-01', { ceiling: 80 }), played(RUN, MONDAY, { ceiling: 72 }))).toBe('80')
    expect(first(played(RUN, MONDAY), played(RUN, '2031-03-12', { ceiling: 72 }))).toBe('72')
    expect(first(played(RUN, '2031-03-01', { ceiling: 80 }))).toBeNull()
    expect(first(played(RUN, MONDAY))).toBeNull()
    expect(first(played(RUN, MONDAY, { played: 1, ceiling: 72 }))).toBe('72')
    expect(first(played(RUN, MONDAY, { played: 0, ceiling: 72 }))).toBeNull()
  })

  test('a range and a goal that nobody knows yet are told', () => {
    const range = { ...run, goalTop: 'dotted-quarter=100' }
    const [row] = partsOf(
      historiesOf([]),
      { ...overture, passages: [range], sure: 'open' },
      [range],
      PERIOD,
      NOW,
    )
    expect([row?.open, row?.top && typed(row.top)]).toEqual([true, 'dotted-quarter=100'])
    expect(parts([run])[0]).not.toHaveProperty('top')
    expect(parts([run])[0]).not.toHaveProperty('open')
  })

  test('what else was judged has its own name and is left out where the piece does not have it', () => {
    const rows = parts([cut])
    const visits = [
      played(joinKey(['s0000001', 's0000002']), MONDAY),
      played(joinKey(['s0000001', 's0000002']), MONDAY, { clean: 0, verdicts: 2 }),
      played(takeKey('cold', ONE), MONDAY),
      played(sectionKey('gone0001'), MONDAY),
      played(ONE, MONDAY),
    ]
    expect(othersOf(visits, { ...overture, passages: [cut] }, rows)).toEqual([
      { label: 'run at the weir, m. 41-44, section 1+2', clean: 3, verdicts: 6 },
      { label: 'run at the weir, m. 41-44, section 1, cold', clean: 3, verdicts: 4 },
    ])
    const label = passageLabel({ ...overture, passages: [cut] })
    expect([takeKey('cold', ONE), rhythmKey(TWO, '3:1')].map(label)).toEqual([
      'run at the weir, m. 41-44',
      'run at the weir, m. 41-44, rhythm 3:1',
    ])
  })

  test('where each section breaks; the passage too where it stops outside of them', () => {
    const stopped = (key: string, ...places: readonly string[]) =>
      played(key, MONDAY, { stops: places.map(place => ({ place, tempo: tempo(60) })) })
    const rows = (passages: readonly Passage[], ...visits: readonly Visit[]) =>
      sectionStops(passages, visits, [], '2031-03-20').map(s => [s.label, s.all.stops])
    const WEIR = 'run at the weir, m. 41-44'
    expect(rows([cut], stopped(RUN, '41.1', '43.1'))).toEqual([
      [`${WEIR}, section 1`, 1],
      [`${WEIR}, section 2`, 1],
    ])
    const first = { ...run, sections: sections.slice(0, 1) }
    expect(rows([first], stopped(RUN, '41.1', '44.1'))).toEqual([
      [`${WEIR}, section 1`, 1],
      [WEIR, 2],
    ])
    expect(rows([run, opening], stopped(RUN, '41.1'))).toEqual([[WEIR, 1]])
    expect(rows([run])).toEqual([])
    const note: Note = {
      kind: 'wrong',
      what: 'bow',
      text: '',
      id: 'n',
      key: RUN,
      time: `${MONDAY}T12:00:00Z`,
      offset: 0,
    }
    expect(sectionStops([run], [], [note], '2031-03-20').map(s => s.label)).toEqual([WEIR])
  })
})
