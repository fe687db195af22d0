import { describe, expect, test } from 'vitest'
import type { Visit } from '../../src/ladder/history.ts'
import { downKey, sectionKey } from '../../src/ladder/key.ts'
import { tempo } from '../../src/music/tempo.ts'
import { weeksOf } from '../../src/plan/diary-days.ts'
import { otherWayText } from '../../src/plan/other-ways.ts'
import { namesOf } from '../../src/plan/practiced-names.ts'
import { othersOf, playedIn } from '../../src/plan/report-figures.ts'
import { overture } from '../store/scene.ts'

const RUN = sectionKey('p0000002')
const MONDAY = '2031-03-10'

const visit = (key: string, day: string, played: number, verdicts = played): Visit => ({
  id: `${key} ${day}`,
  key,
  time: `${day}T17:00:00.000Z`,
  offset: 0,
  clean: verdicts,
  verdicts,
  played,
  seconds: 60,
  ceiling: null,
  goal: false,
  last: null,
  rule: '3-in-a-row',
  stops: [],
  air: null,
})

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
