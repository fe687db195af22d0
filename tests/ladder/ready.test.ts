import { expect, test } from 'vitest'
import { type ColdTake, isReady, secure } from '../../src/ladder/ready.ts'
import { tempo } from '../../src/music/tempo.ts'

const take = (day: number, bpm: number, clean = true): ColdTake => ({
  day: `2031-03-${10 + day}`,
  tempo: tempo(bpm),
  clean,
})

test('secure is the highest tempo of a clean cold take, whatever was tried', () => {
  expect(secure([])).toBeNull()
  expect(secure([take(1, 112), take(2, 120, false), take(3, 108)])).toEqual(tempo(112))
})

test('ready: the goal was reached, and cold takes at the goal were clean on two days', () => {
  const goal = tempo(120)
  expect(isReady(goal, goal, [take(1, 120), take(2, 120)])).toBe(true)
  expect(isReady(tempo(126), goal, [take(1, 120), take(2, 126)])).toBe(true)
  expect(isReady(goal, goal, [take(1, 120), take(1, 120)])).toBe(false)
  expect(isReady(goal, goal, [take(1, 120), take(2, 120, false)])).toBe(false)
  expect(isReady(goal, goal, [take(1, 120), take(2, 116)])).toBe(false)
  expect(isReady(tempo(116), goal, [take(1, 120), take(2, 120)])).toBe(false)
  expect(isReady(null, goal, [take(1, 120), take(2, 120)])).toBe(false)
})
