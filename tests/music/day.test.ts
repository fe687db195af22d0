import { expect, it } from 'vitest'
import { dayAfter, dayAt, daysBetween, isDay, localDay, mondayOf } from '../../src/music/day.ts'

it('a player who is still at it at 3:59 practices yesterday; at 4:00 the new day begins', () => {
  // Paris in summer is 120 minutes east of UTC.
  expect(localDay('2026-07-02T01:59:59.999Z', 120)).toBe('2026-07-01')
  expect(localDay('2026-07-02T02:00:00.000Z', 120)).toBe('2026-07-02')
})

it('the day is that of the player, not of Greenwich', () => {
  const moment = Date.UTC(2026, 0, 1, 10, 30)
  expect(localDay(moment, -600)).toBe('2025-12-31')
  expect(localDay(moment, 0)).toBe('2026-01-01')
  expect(localDay(moment, 840)).toBe('2026-01-01')
})

it('a leap day is a day', () => {
  expect(localDay('2028-03-01T03:00:00Z', 0)).toBe('2028-02-29')
})

it('days are those of the calendar, written in one way', () => {
  for (const day of ['2026-03-14', '2028-02-29', '1999-12-31']) expect(isDay(day)).toBe(true)
  for (const none of [
    '2026-02-29',
    '2026-13-01',
    '2026-3-14',
    '14 March',
    '',
    ' 2026-03-14',
    '2026-03-14T00:00',
  ])
    expect(isDay(none), none).toBe(false)
})

it('days are counted over months, years and leap days, forward and back', () => {
  expect([dayAfter('2028-02-28', 1), dayAfter('2028-03-01', -1), dayAfter('2026-12-31', 1)]).toEqual([
    '2028-02-29',
    '2028-02-29',
    '2027-01-01',
  ])
  expect([daysBetween('2026-03-14', '2026-04-14'), daysBetween('2026-03-14', '2026-03-07')]).toEqual([31, -7])
  expect(daysBetween('2026-03-14', '2026-03-14')).toBe(0)
})

it('a week begins on Monday', () => {
  const monday = '2026-03-09'
  for (let i = 0; i < 7; i++) expect(mondayOf(dayAfter(monday, i))).toBe(monday)
  expect(mondayOf(dayAfter(monday, 7))).toBe('2026-03-16')
  expect(mondayOf(dayAfter(monday, -1))).toBe('2026-03-02')
})

it('a moment on the player’s clock has its day', () => {
  expect(dayAt({ wall: Date.UTC(2026, 6, 2, 1, 59), offset: 120 })).toBe('2026-07-01')
  expect(dayAt({ wall: Date.UTC(2026, 6, 2, 2, 0), offset: 120 })).toBe('2026-07-02')
})
