import { expect, test } from 'vitest'
import type { ColdTake } from '../../src/ladder/ready.ts'
import { atCeiling, rowAdvice } from '../../src/ladder/row-advice.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { tempo } from '../../src/music/tempo.ts'

const { up } = DEFAULT_RULES
/** "+" = clean, "-" = not, a day each. */
const takes = (marks: string): readonly ColdTake[] =>
  [...marks].map((m, i) => ({ day: `2031-03-${10 + i}`, tempo: tempo(108), clean: m === '+' }))

test.each([
  ['more than half of six fail: four in a row', '-+--+-', 4],
  ['just half fail: as it is', '-+-+-+', null],
  ['five takes say nothing', '-----', null],
  ['nine of ten are clean: two', '+++++-++++', 2],
  ['eight of nine are fewer than nine in ten', '+++++-+++', null],
  ['six of six: two', '++++++', 2],
])('%s', (_, marks, advice) => {
  expect(rowAdvice(takes(marks), up)).toBe(advice)
})

test('the player who does it so already is not told, nor one with another kind of rule', () => {
  expect(rowAdvice(takes('------'), { kind: 'row', n: 4 })).toBeNull()
  expect(rowAdvice(takes('++++++'), { kind: 'row', n: 2 })).toBeNull()
  expect(rowAdvice(takes('------'), { kind: 'total', n: 8 })).toBeNull()
})

test('what was played below the ceiling does not count', () => {
  expect(atCeiling(takes('+-'), tempo(108))).toHaveLength(2)
  expect(atCeiling(takes('+-'), tempo(112))).toEqual([])
  expect(atCeiling(takes('+-'), null)).toEqual([])
})
