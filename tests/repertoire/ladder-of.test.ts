import { describe, expect, test } from 'vitest'
import { historiesOf, type Visit } from '../../src/ladder/history.ts'
import { DEFAULT_RULES, upText } from '../../src/ladder/rules.ts'
import { standing } from '../../src/ladder/standing.ts'
import { tempo } from '../../src/music/tempo.ts'
import { ladderOf } from '../../src/repertoire/ladder-of.ts'
import type { Passage, Section } from '../../src/repertoire/piece.ts'

const section = (name: string, from: string, to: string): Section => ({ id: `s${name}`, name, from, to })
const [one, two, three] = [
  section('1', '41', '42'),
  section('2', '42', '43.2'),
  section('3', '43', 'end'),
] as const
const passage = (...sections: readonly Section[]): Passage => ({
  id: 'weir',
  name: 'run at the weir',
  measures: '41-44',
  meter: '4/4',
  count: 4,
  pickup: null,
  goal: '120',
  sections,
})
const NOW = { wall: Date.parse('2031-03-15T12:00:00Z'), offset: 0 }
const reached = (key: string, bpm: number): Visit => ({
  id: key,
  key,
  time: '2031-03-12T12:00:00.000Z',
  offset: 0,
  clean: 3,
  verdicts: 3,
  played: 3,
  seconds: 60,
  ceiling: tempo(bpm),
  goal: false,
  last: { tempo: tempo(bpm), slipped: false, time: '2031-03-12T12:00:00.000Z', offset: 0 },
  rule: '3-in-a-row',
  stops: [],
  air: null,
})

describe('sections that are played as one', () => {
  const p = passage(one, two, three)

  test('are the passage where they are all of it: one key, three in a row, one way to begin', () => {
    expect(ladderOf(p, [one, two, three])).toEqual(ladderOf(p))
    expect(ladderOf(p)).toMatchObject({ key: 'section weir even', rules: DEFAULT_RULES })
    expect(upText(ladderOf(p).rules.up)).toBe('3-in-a-row')
  })

  test('of which some are left out go up after two in a row, on a ladder of their own', () => {
    expect(ladderOf(p, [one, two])).toMatchObject({ key: 'join s1+s2 even' })
    expect(upText(ladderOf(p, [one, two]).rules.up)).toBe('2-in-a-row')
    expect(upText(ladderOf(p, [one]).rules.up)).toBe('3-in-a-row')
  })

  test('of only two in a passage are the passage as well', () => {
    const halves = passage(section('1', '41', '43'), section('2', '43', 'end'))
    const both = halves.sections ?? []
    expect(ladderOf(halves, both)).toEqual(ladderOf(halves))
    expect(upText(ladderOf(halves, both).rules.up)).toBe('3-in-a-row')
  })

  test('begin at 92 % of the lowest of their ceilings, whether they are named or the passage is', () => {
    const all = historiesOf([
      reached('section s1 even', 116),
      reached('section s2 even', 100),
      reached('section s3 even', 120),
    ])
    const named = standing(ladderOf(p, [one, two, three]), all, NOW)
    expect(named).toEqual(standing(ladderOf(p), all, NOW))
    expect(named).toMatchObject({ ceiling: null, next: tempo(92), finding: false })
    // Once it has a ceiling of its own, it is like any other.
    const since = historiesOf([...all.visits, reached('section weir even', 108)])
    expect(standing(ladderOf(p), since, NOW)).toMatchObject({ ceiling: tempo(108), next: tempo(100) })
  })

  test('stand for a passage that reaches beyond them only with the rest of it', () => {
    const open = passage(one, two)
    expect(
      ladderOf(open)
        .joins?.map(j => j.id)
        .slice(0, 2),
    ).toEqual(['s1', 's2'])
    expect(ladderOf(open).joins).toHaveLength(3)
    expect(ladderOf(open, [one, two]).key).toBe('join s1+s2 even')
  })
})
