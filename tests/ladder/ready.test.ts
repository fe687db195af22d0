import { expect, test } from 'vitest'
import { type ColdTake, cleanColds, nextEnd, readySince, secure } from '../../src/ladder/ready.ts'
import { compareTempo, type Tempo, tempo } from '../../src/music/tempo.ts'

const take = (day: number, bpm: number, clean = true): ColdTake => ({
  day: `2031-03-${10 + day}`,
  tempo: tempo(bpm),
  clean,
})

test('secure is the highest tempo of a clean cold take, whatever was tried', () => {
  expect(secure([])).toBeNull()
  expect(secure([take(1, 112), take(2, 120, false), take(3, 108)])).toEqual(tempo(112))
})

test('secure falls when two cold takes at that tempo, or below it, failed after it', () => {
  const good = [take(1, 108), take(2, 112)]
  expect(secure([...good, take(3, 112, false)])).toEqual(tempo(112))
  expect(secure([...good, take(3, 112, false), take(4, 112, false)])).toEqual(tempo(108))
  expect(secure([...good, take(3, 100, false), take(4, 100, false)])).toBeNull()
  expect(secure([...good, take(3, 120, false), take(4, 120, false)])).toEqual(tempo(112))
})

const isReady = (ceiling: Tempo | null, goal: Tempo, takes: readonly ColdTake[], top: Tempo | null = null) =>
  readySince(ceiling && compareTempo(ceiling, goal) >= 0 ? take(0, 1).day : null, goal, takes, top) !== null

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

test('a failed cold take reopens it, until two more days are clean', () => {
  const goal = tempo(120)
  const failed = [take(1, 120), take(2, 120), take(3, 120, false)]
  expect(isReady(goal, goal, failed)).toBe(false)
  expect(isReady(goal, goal, [...failed, take(4, 120)])).toBe(false)
  expect(isReady(goal, goal, [...failed, take(4, 120), take(5, 120)])).toBe(true)
  expect([failed, [...failed, take(4, 120)]].map(t => cleanColds(t, goal))).toEqual([0, 1])
  // Of a range the end counts that has fewer.
  expect(cleanColds([take(1, 120), take(2, 128)], goal, tempo(128))).toBe(1)
})

test('it is ready since the day on which the last of these was met', () => {
  const goal = tempo(120)
  const takes = [take(1, 120), take(4, 120), take(5, 120)]
  expect(readySince(take(1, 1).day, goal, takes)).toBe(take(4, 1).day)
  // The first cold takes at the goal were clean before the ladder came there.
  expect(readySince(take(6, 1).day, goal, takes)).toBe(take(6, 1).day)
  expect(readySince(null, goal, takes)).toBeNull()
})

test('a goal that is a range is ready when it was clean on two days at each of its ends', () => {
  const [low, top] = [tempo(116), tempo(124)]
  const both = [take(1, 116), take(2, 124), take(3, 116), take(4, 124)]
  expect(isReady(low, low, both, top)).toBe(true)
  expect(isReady(low, low, both)).toBe(true)
  // Fast enough is not also slow enough: being locked to one tempo is what this guards against.
  expect(isReady(tempo(124), low, [take(1, 124), take(2, 124), take(3, 124), take(4, 124)], top)).toBe(false)
  expect(isReady(low, low, [take(1, 116), take(2, 116), take(3, 124)], top)).toBe(false)
  expect(isReady(low, low, [...both.slice(0, 3), take(4, 124, false)], top)).toBe(false)
  expect(isReady(tempo(112), low, both, top)).toBe(false)
})

test('takes go from one end of a range to the other until both are sure, then on in turn', () => {
  const [low, top] = [tempo(116), tempo(124)]
  const next = (...takes: ColdTake[]) => nextEnd(takes, low, top)
  expect(next()).toEqual(low)
  expect(next(take(1, 112))).toEqual(low)
  expect(next(take(1, 116))).toEqual(top)
  expect(next(take(1, 116), take(2, 124, false))).toEqual(low)
  // The lower end is sure: only the upper one is asked for.
  expect(next(take(1, 116), take(2, 116), take(3, 124, false))).toEqual(top)
  expect(next(take(1, 124), take(2, 124))).toEqual(low)
  expect(next(take(1, 116), take(2, 124), take(3, 116), take(4, 124))).toEqual(low)
  expect(next(take(1, 116), take(2, 124), take(4, 124), take(5, 116))).toEqual(top)
  expect(nextEnd([take(1, 124)], low, null)).toEqual(low)
})
