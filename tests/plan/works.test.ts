import { describe, expect, test } from 'vitest'
import { historiesOf, type Visit } from '../../src/ladder/history.ts'
import { sectionKey } from '../../src/ladder/key.ts'
import { tempo } from '../../src/music/tempo.ts'
import { partsOf, rungsAbove, seamsOf, worksOf } from '../../src/plan/works.ts'
import type { Passage, Piece } from '../../src/repertoire/piece.ts'
import { UP_AND_DOWN, WEIR } from '../repertoire/weir.ts'

const passage: Passage = { ...WEIR, readyBy: '2026-03-28', sections: [...UP_AND_DOWN] }
const opening: Passage = { ...passage, id: 'open0001', name: 'opening', measures: '1-4', sections: [] }
const { readyBy: _, ...undated } = opening
const piece: Piece = {
  v: 2,
  id: 'a1b2c3d4',
  title: 'Weir Street Overture',
  readyBy: '2026-04-02',
  passages: [undated, passage],
}

const reached = (key: string, ceiling: number | null): Visit => ({
  id: key,
  key,
  time: '2026-03-12T12:00:00.000Z',
  offset: 0,
  clean: 3,
  verdicts: 3,
  played: 3,
  seconds: 60,
  ceiling: ceiling === null ? null : tempo(ceiling),
  goal: false,
  last: null,
  rule: '3-in-a-row',
  stops: [],
  air: null,
})
const parts = (...visits: readonly Visit[]) => partsOf(historiesOf(visits), [piece])
const above = (ceiling: number | null): number | null => {
  const up = parts(reached(sectionKey('s0000001'), ceiling)).find(p => p.section?.name === 'up')
  return up ? rungsAbove(up) : Number.NaN
}

describe('all that can be practiced', () => {
  test('is every passage and, before it, its sections', () => {
    expect(parts().map(p => p.section?.name ?? p.passage.name)).toEqual([
      'opening',
      'up',
      'down',
      'run at the weir',
    ])
    expect(parts().map(p => p.ladder.key)).toEqual([
      sectionKey('open0001'),
      sectionKey('s0000001'),
      sectionKey('s0000002'),
      sectionKey('weir0001'),
    ])
  })

  test('has the date of its passage, else that of its piece', () => {
    expect(parts().map(p => p.readyBy)).toEqual(['2026-04-02', '2026-03-28', '2026-03-28', '2026-03-28'])
    const { readyBy: none, ...never } = piece
    expect(none).toBe('2026-04-02')
    expect(partsOf(historiesOf([]), [{ ...never, passages: [undated] }]).map(p => p.readyBy)).toEqual([null])
  })

  test('knows what was played of it, and of nothing else', () => {
    const [first, up] = parts(reached(sectionKey('s0000001'), 104))
    expect(first?.log).toEqual([])
    expect(up?.log.map(d => d.ceiling)).toEqual([tempo(104)])
  })
})

const DAY = '2026-03-13'
const EVENING = { wall: Date.parse(`${DAY}T18:00:00Z`), offset: 0 }
const after = (...visits: readonly Visit[]) => {
  const all = historiesOf(visits)
  const of = partsOf(all, [piece])
  return { works: worksOf(all, of, DAY, EVENING), seams: seamsOf(all, of, DAY, EVENING) }
}

test('each two neighbors have a seam, named after both, which knows when it was last played', () => {
  const [up, down] = [sectionKey('s0000001'), sectionKey('s0000002')]
  const { seams } = after(reached(up, 104), reached(down, 112))
  expect(seams.map(s => s.of)).toEqual([[up, down]])
  expect(seams.map(s => s.lastPlayedDaysAgo)).toEqual([null])
  const key = seams[0]?.key ?? ''
  expect(after(reached(up, 104), reached(key, 96)).seams.map(s => s.lastPlayedDaysAgo)).toEqual([1])
})

test('the rungs above: those to the goal, and none at the goal or beyond it; unknown before the first', () => {
  // Above 104 on the traditional scale: 108, 112, 116, 120.
  expect([above(104), above(116), above(120), above(132)]).toEqual([4, 1, 0, 0])
  expect(above(null)).toBeNull()
})
