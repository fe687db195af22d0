import { describe, expect, test } from 'vitest'
import { daysOff, daysToPlay, turnsEvery, turnsToCome } from '../../src/plan/turns.ts'

/** A Friday, and the days from Monday to Friday. */
const FRIDAY = '2031-03-14'
const WEEK = [1, 2, 3, 4, 5]

describe('days that are played on until a date', () => {
  test('every day: each of them, this one included', () => {
    expect(daysToPlay(FRIDAY, '2031-03-19')).toBe(5)
    expect(daysToPlay(FRIDAY, FRIDAY)).toBe(0)
    expect(daysToPlay(FRIDAY, '2031-03-12')).toBe(-2)
  })

  test('without weekends: Friday, Monday, Tuesday before a Wednesday', () => {
    expect(daysToPlay(FRIDAY, '2031-03-19', WEEK)).toBe(3)
  })

  test('before a Monday the Friday is the last evening', () => {
    expect(daysToPlay(FRIDAY, '2031-03-17', WEEK)).toBe(1)
    expect(daysToPlay('2031-03-13', '2031-03-17', WEEK)).toBe(2)
  })

  test('who plays on a Saturday all the same has that day too', () => {
    expect(daysToPlay('2031-03-15', '2031-03-18', WEEK)).toBe(2)
  })
})

describe('the turns of one passage', () => {
  const days = ['2031-03-10', '2031-03-12', '2031-03-14']

  test('every second day of all; on Mondays, Wednesdays and Fridays each day that is played on', () => {
    expect(turnsEvery(days)).toBe(2)
    expect(turnsEvery(days, [1, 3, 5])).toBe(1)
    expect(turnsEvery([])).toBe(1)
    expect(turnsEvery(['2031-03-10'])).toBe(1)
  })

  test('come as often as until now', () => {
    const next = (today: string, week?: readonly number[]) =>
      turnsToCome({ last: FRIDAY, today, every: week ? 1 : 2, week }, 3)
    expect(next('2031-03-15')).toEqual(['2031-03-16', '2031-03-18', '2031-03-20'])
    expect(next('2031-03-15', [1, 3, 5])).toEqual(['2031-03-17', '2031-03-19', '2031-03-21'])
  })

  test('what is overdue comes on the next day that is played on', () => {
    expect(turnsToCome({ last: '2031-03-10', today: FRIDAY, every: 2 }, 2)).toEqual([FRIDAY, '2031-03-16'])
    expect(turnsToCome({ last: '2031-03-10', today: '2031-03-15', every: 2, week: WEEK }, 2)).toEqual([
      '2031-03-17',
      '2031-03-19',
    ])
  })

  test('three turns in four days: the next ones keep that pace', () => {
    expect(turnsToCome({ last: FRIDAY, today: '2031-03-15', every: 1.5 }, 4)).toEqual([
      '2031-03-16',
      '2031-03-18',
      '2031-03-19',
      '2031-03-21',
    ])
  })

  test('who plays on Mondays alone has the first ones weeks away, and each of as many as are asked for', () => {
    const monday = '2031-03-10'
    const next = (every: number, count: number) =>
      turnsToCome({ last: monday, today: '2031-03-11', every, week: [1] }, count)
    const weeks = (all: readonly string[]) =>
      all.map(d => daysOff([monday, d])).map(([n]) => ((n ?? 0) + 1) / 7)
    expect(weeks(next(3, 3))).toEqual([3, 6, 9])
    expect(weeks(next(1.5, 2))).toEqual([2, 4])
    expect(weeks(next(1, 40))).toEqual(Array.from({ length: 40 }, (_, i) => i + 1))
    expect(weeks(next(2.5, 40)).at(-1)).toBe(101)
  })

  test('what was practiced today has its next turn on another day', () => {
    expect(turnsToCome({ last: FRIDAY, today: FRIDAY, every: 1 }, 2)).toEqual(['2031-03-15', '2031-03-16'])
  })

  test('days off between them', () => {
    expect(daysOff(days)).toEqual([1, 1])
    expect(daysOff(['2031-03-14', '2031-03-15', '2031-03-18'])).toEqual([0, 2])
  })
})
