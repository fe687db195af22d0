import { describe, expect, test } from 'vitest'
import type { Visit } from '../../src/ladder/history.ts'
import { lnGain, logOf, planningCeiling } from '../../src/ladder/log.ts'
import { tempo, typed } from '../../src/music/tempo.ts'

const visit = (time: string, ceiling: number | null, other: Partial<Visit> = {}): Visit => ({
  id: time,
  key: 'section run even',
  time: `2031-03-${time}:00.000Z`,
  offset: 60,
  clean: 6,
  verdicts: 8,
  played: 9,
  seconds: 300,
  ceiling: ceiling === null ? null : tempo(ceiling),
  goal: false,
  last: null,
  rule: '3-in-a-row',
  stops: [],
  air: null,
  ...other,
})

const log = (...visits: readonly Visit[]) => logOf(visits)
const said = (l: ReturnType<typeof log>) =>
  l.map(d => [d.day, d.minutes, d.best && typed(d.best), d.ceiling && typed(d.ceiling)])

describe('the days of a section', () => {
  test('put visits of a day together; the ceiling stays where a day was lower', () => {
    const l = log(
      visit('10T17:00', 92),
      visit('10T18:00', 96, { seconds: 120 }),
      visit('12T17:00', null),
      visit('13T17:00', 88),
    )
    expect(said(l)).toEqual([
      ['2031-03-10', 7, '96', '96'],
      ['2031-03-12', 5, null, '96'],
      ['2031-03-13', 5, '88', '96'],
    ])
    expect(l[0]).toMatchObject({ clean: 12, verdicts: 16 })
  })

  test('are in order of their dates, by the clock of the place; a visit without a verdict leaves none', () => {
    const l = log(visit('13T03:30', 96), visit('10T17:00', 92), visit('11T17:00', null, { verdicts: 0 }))
    expect(l.map(d => d.day)).toEqual(['2031-03-10', '2031-03-13'])
  })
})

test('a day keeps the best of each rule, that of its latest visit last', () => {
  const [day] = log(
    visit('10T17:00', 92),
    visit('10T18:00', 104, { rule: '2-in-a-row' }),
    visit('10T19:00', 96),
    visit('10T20:00', null, { rule: '8-in-all' }),
    visit('10T21:00', 88, { rule: '4-of-5' }),
    visit('10T21:30', 84, { rule: '4-of-5' }),
  )
  expect(day?.best && typed(day.best)).toBe('104')
  expect(day?.reached.map(r => [r.rule, typed(r.best)])).toEqual([
    ['2-in-a-row', '104'],
    ['3-in-a-row', '96'],
    ['4-of-5', '88'],
  ])
})

describe('what a plan counts on', () => {
  const goal = tempo(120)
  const ceiling = (...visits: readonly Visit[]) => {
    const found = planningCeiling(log(...visits), goal)
    return found && typed(found)
  }

  test('the higher of the last two days that completed a rung', () => {
    expect(
      ceiling(visit('10T17:00', 112), visit('11T17:00', 100), visit('12T17:00', 96), visit('13T17:00', null)),
    ).toBe('100')
    expect(ceiling(visit('10T17:00', null))).toBeNull()
    expect(ceiling()).toBeNull()
  })

  test('a goal that was reached stays reached', () => {
    expect(ceiling(visit('10T17:00', 120), visit('11T17:00', 100), visit('12T17:00', 96))).toBe('120')
  })

  test('the gain is counted from the first ceiling to the present one', () => {
    expect(lnGain(log(visit('10T17:00', null), visit('11T17:00', 80), visit('12T17:00', 100)))).toBeCloseTo(
      Math.log(100 / 80),
      9,
    )
    expect(lnGain([])).toBe(0)
  })
})
