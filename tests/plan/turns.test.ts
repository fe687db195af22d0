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

  test('days off between them', () => {
    expect(daysOff(days)).toEqual([1, 1])
    expect(daysOff(['2031-03-14', '2031-03-15', '2031-03-18'])).toEqual([0, 2])
  })
})
