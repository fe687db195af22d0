import { expect, test } from 'vitest'
import { historiesOf, type Visit } from '../../src/ladder/history.ts'
import { downKey, sectionKey, takeKey } from '../../src/ladder/key.ts'
import { secure } from '../../src/ladder/ready.ts'
import { standing } from '../../src/ladder/standing.ts'
import { tempo } from '../../src/music/tempo.ts'
import { outlookOf } from '../../src/plan/outlook.ts'
import { finished, fullGap } from '../../src/plan/work.ts'
import { partsOf, rungsAbove, worksOf } from '../../src/plan/works.ts'
import type { Passage, Piece } from '../../src/repertoire/piece.ts'

/** Long bows: from 80 down to 56, where slower is harder. */
const bows: Passage = {
  id: 'bows0001',
  name: 'long bows',
  measures: '12-15',
  meter: '4/4',
  count: 4,
  pickup: null,
  start: '80',
  goal: '56',
}
const piece: Piece = { v: 2, id: 'piece001', title: 'Night Ferry', readyBy: '2031-03-20', passages: [bows] }
const KEY = downKey(sectionKey(bows.id))
const NOW = { wall: Date.parse('2031-03-15T12:00:00Z'), offset: 0 }

const visit = (key: string, day: string, bpm: number, slipped = false): Visit => {
  const time = `${day}T12:00:00.000Z`
  const last = { tempo: tempo(bpm), slipped, time, offset: 0 }
  return {
    id: `${key}${day}`,
    key,
    time,
    offset: 0,
    clean: 3,
    verdicts: 3,
    played: 3,
    seconds: 60,
    ceiling: slipped ? null : tempo(bpm),
    goal: false,
    last,
    rule: '3-in-a-row',
    stops: [],
    air: null,
  }
}
const cold = (day: string, bpm: number, slipped = false): Visit =>
  visit(takeKey('cold', KEY), day, bpm, slipped)
const after = (...visits: readonly Visit[]) => {
  const all = historiesOf(visits)
  const [part] = partsOf(all, [piece])
  const [work] = worksOf(all, part ? [part] : [], '2031-03-15', NOW)
  if (!part || !work) throw new Error('no work')
  return { all, part, work }
}
const climbed = [visit(KEY, '2031-03-12', 72), visit(KEY, '2031-03-13', 66)]

test('a ladder that leads down is not finished before its slow goal is reached', () => {
  const { part, work } = after(...climbed)
  expect(work).toMatchObject({ key: KEY, down: true, ceiling: tempo(66), oneAbove: tempo(63) })
  expect(finished(work)).toBe(false)
  expect(fullGap(work)).toBeCloseTo(Math.log(66 / 56))
  // 63, 60, 58, 56
  expect(rungsAbove(part)).toBe(4)
  expect(finished(after(...climbed, visit(KEY, '2031-03-14', 56)).work)).toBe(true)
})

test('a day begins a little faster than the slowest tempo that was reached', () => {
  expect(after(...climbed, visit(KEY, '2031-03-14', 66)).work.next).toEqual(tempo(69))
  // After a day without it by one more.
  expect(after(...climbed).work.next).toEqual(tempo(72))
})

test('the slowest tempo of a clean cold take is secure, until two fail there or above', () => {
  const take = (n: number, bpm: number, clean = true) => ({ day: `2031-03-1${n}`, tempo: tempo(bpm), clean })
  expect(secure([take(1, 72), take(2, 60), take(3, 66)], 'down')).toEqual(tempo(60))
  const failed = [take(1, 72), take(2, 60), take(3, 60, false), take(4, 63, false)]
  expect(secure(failed, 'down')).toEqual(tempo(72))
})

test('ready when the slow goal was reached and clean cold on two days; a take at a faster tempo is none at the goal', () => {
  const reached = [...climbed, visit(KEY, '2031-03-13', 56)]
  const ready = (...takes: readonly Visit[]): boolean => {
    const { all, part } = after(...reached, ...takes)
    return standing(part.ladder, all, NOW).ready
  }
  expect(ready(cold('2031-03-14', 56), cold('2031-03-15', 56))).toBe(true)
  expect(ready(cold('2031-03-14', 60), cold('2031-03-15', 60))).toBe(false)
})

test('what may come is not "reached" while the tempo is still too fast', () => {
  const asked = { days: [], goal: tempo(56), rungs: 4, today: '2031-03-15', readyBy: '2031-03-20' }
  expect(outlookOf({ ...asked, ceiling: tempo(66), direction: 'down' }).kind).toBe('pace')
  expect(outlookOf({ ...asked, ceiling: tempo(56), direction: 'down' }).kind).toBe('reached')
})
