import { expect, test } from 'vitest'
import { atCeiling, type ColdTake, passageAdvice, rowAdvice } from '../../src/ladder/ready.ts'
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

const never = () => false
const run = (passage: string, marks: string, n = 3) => ({
  passage,
  up: { kind: 'row' as const, n },
  takes: takes(marks),
})

test('a passage is advised by its own takes: six of which four fail, wherever they lie among the others', () => {
  const clean = run('opening', '+++++')
  expect(passageAdvice([clean, run('run', '-+--+-')], never)).toEqual({ passage: 'run', n: 4 })
  expect(passageAdvice([run('run', '-+--+-'), clean], never)).toEqual({ passage: 'run', n: 4 })
})

test('what one passage lacks another does not lend: five and one are not six, and failures of one are no failures of the other', () => {
  expect(passageAdvice([run('run', '-----'), run('coda', '-')], never)).toBeNull()
  // Together ten of eighteen would fail; alone three of six do, and seven of twelve.
  expect(passageAdvice([run('run', '-+-+-+'), run('coda', '-------+++++')], never)).toEqual({
    passage: 'coda',
    n: 4,
  })
  expect(passageAdvice([run('run', '++++++'), run('coda', '-+-+-+')], never)).toEqual({
    passage: 'run',
    n: 2,
  })
})

test('each passage is measured by the rule that it is climbed by', () => {
  expect(passageAdvice([run('run', '------', 4), run('coda', '------', 3)], never)?.passage).toBe('coda')
  expect(passageAdvice([run('run', '++++++', 2), run('coda', '++++++', 4)], never)).toEqual({
    passage: 'coda',
    n: 2,
  })
})

test('it is said once of a passage: then the next one has its turn, and the other advice may still come', () => {
  const all = [run('run', '------'), run('coda', '------')]
  const told = (passage: string, n: number): boolean => passage === 'run' && n === 4
  expect(passageAdvice(all, told)).toEqual({ passage: 'coda', n: 4 })
  expect(passageAdvice([run('run', '++++++')], told)).toEqual({ passage: 'run', n: 2 })
  expect(passageAdvice(all, () => true)).toBeNull()
})
