import { expect, it } from 'vitest'
import { decodeKey } from '../../src/ladder/key.ts'
import { openingOf } from '../../src/ladder/standing.ts'
import { frac } from '../../src/music/fraction.ts'
import { tempo } from '../../src/music/tempo.ts'
import { ladderOf } from '../../src/repertoire/ladder-of.ts'
import type { Passage } from '../../src/repertoire/piece.ts'

const run: Passage = {
  id: 'p0000003',
  name: 'run at the weir',
  measures: '41-44',
  meter: '4/4',
  count: 4,
  pickup: null,
  start: '80',
  goal: '138',
  sections: [
    { id: 's0000001', name: '1', from: '41', to: '43' },
    { id: 's0000002', name: '2', from: '43', to: '44.3' },
  ],
}
const own = run.sections ?? []

it('a passage that says nothing is climbed as usual: by notches, three in a row, back after two slips', () => {
  expect(ladderOf(run)).toMatchObject({
    step: { kind: 'notch' },
    direction: 'up',
    rules: { up: { kind: 'row', n: 3 }, slips: 2, top: 5 },
  })
  expect(ladderOf(run, own).rules.up).toEqual({ kind: 'row', n: 2 })
})

it('what the passage says holds for it, its sections and its joins', () => {
  const said = { ...run, clean: '4-of-5', step: '4%', slips: 'never', dayStart: '90%' }
  for (const ladder of [ladderOf(said), ladderOf(said, own.slice(0, 1)), ladderOf(said, own)])
    expect(ladder).toMatchObject({
      step: { kind: 'percent', by: frac(4) },
      rules: { up: { kind: 'most', n: 4, of: 5 }, slips: 0 },
      dayStart: 0.9,
    })
})

it('what the player says holds where the passage says nothing', () => {
  const usual = { clean: '4-in-a-row', step: '+4' }
  expect(ladderOf(run, [], usual).rules.up).toEqual({ kind: 'row', n: 4 })
  expect(ladderOf({ ...run, clean: '2-in-a-row' }, [], usual)).toMatchObject({
    step: { kind: 'fixed', by: frac(4) },
    rules: { up: { kind: 'row', n: 2 } },
  })
})

it('a start above the goal leads down, on a ladder of its own', () => {
  const bows = { ...run, start: '80', goal: '56' }
  const ladder = ladderOf(bows)
  expect(ladder.direction).toBe('down')
  expect(ladder.key).not.toBe(ladderOf(run).key)
  expect(decodeKey(ladder.key)).toMatchObject({ direction: 'down' })
  const opens = openingOf(ladder, { of: () => undefined, visits: [] }, { wall: 0, offset: 0 })
  expect(opens.ok && [opens.value.rungs[0], opens.value.rungs.at(-1)]).toEqual([tempo(80), tempo(56)])
})
