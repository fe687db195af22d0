import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { dayAfter, daysBetween } from '../../src/music/day.ts'
import { daysAway, dayText, parseDay, weekday } from '../../src/music/day-words.ts'
import { sentence } from '../../src/music/result.ts'

/** A Saturday. */
const TODAY = '2026-03-14'
const ahead = (s: string): string => {
  const r = parseDay(s, 'concert', { from: TODAY })
  return r.ok ? r.value : sentence(r.problem)
}
const back = (s: string): string => {
  const r = parseDay(s, 'last lesson', { to: TODAY })
  return r.ok ? r.value : sentence(r.problem)
}

describe('a day to come', () => {
  test.each([
    ['2026-03-20', '2026-03-20'],
    [' 2026-03-14 ', '2026-03-14'],
    ['today', '2026-03-14'],
    ['Tomorrow', '2026-03-15'],
    ['in 1 day', '2026-03-15'],
    ['in 6 days', '2026-03-20'],
    ['in 2 weeks', '2026-03-28'],
    ['in  1  week', '2026-03-21'],
    ['+9', '2026-03-23'],
    ['Friday', '2026-03-20'],
    ['fri', '2026-03-20'],
    ['sun', '2026-03-15'],
    ['Saturday', '2026-03-21'],
    ['28 March', '2026-03-28'],
    ['March 28', '2026-03-28'],
    ['14 mar', '2026-03-14'],
    ['13 Mar.', '2027-03-13'],
    ['1st May', '2026-05-01'],
    ['May 2nd', '2026-05-02'],
    ['3rd December', '2026-12-03'],
    ['january 4th', '2027-01-04'],
    ['28 March 2027', '2027-03-28'],
    ['March 28, 2027', '2027-03-28'],
    ['29 February', '2028-02-29'],
  ])('"%s" is %s', (typed, day) => {
    expect(ahead(typed)).toBe(day)
  })

  test('that is past is refused, with one that is not', () => {
    expect(ahead('2026-03-13')).toBe('"2026-03-13" is past. Try 2026-03-20, "in 6 days" or "Friday".')
    expect(ahead('yesterday')).toContain('is past')
    expect(ahead('2 days ago')).toContain('is past')
    expect(ahead('28 March 2025')).toContain('is past')
  })

  test.each([
    '31 April',
    '2026-02-30',
    'fr',
    'ma 4',
    '4 ma',
    'someday',
    'in 6',
    '0 March',
    'in 5 hours',
    '2026',
  ])('"%s" is none', typed => {
    expect(ahead(typed)).toBe(
      `"${typed}" doesn't work for the concert. Try 2026-03-20, "in 6 days" or "Friday".`,
    )
  })
})

describe('a day that was', () => {
  test.each([
    ['2026-03-14', '2026-03-14'],
    ['yesterday', '2026-03-13'],
    ['1 day ago', '2026-03-13'],
    ['6 days ago', '2026-03-08'],
    ['2 weeks ago', '2026-02-28'],
    ['1 week ago', '2026-03-07'],
    ['Monday', '2026-03-09'],
    ['Saturday', '2026-03-07'],
    ['Friday', '2026-03-13'],
    ['Sunday', '2026-03-08'],
    ['14 March', '2026-03-14'],
    ['15 March', '2025-03-15'],
    ['29 February', '2024-02-29'],
  ])('"%s" is %s', (typed, day) => {
    expect(back(typed)).toBe(day)
  })

  test('that is still to come is refused, with one that is not', () => {
    expect(back('tomorrow')).toBe('"tomorrow" is still to come. Try 2026-03-14, "6 days ago" or "Monday".')
    expect(back('in 2 days')).toContain('still to come')
    expect(back('nonsense')).toBe(
      '"nonsense" doesn\'t work for the last lesson. Try 2026-03-14, "6 days ago" or "Monday".',
    )
  })
})

test('any day: as it is written, or with its month and year; there is no today to count from', () => {
  const any = (s: string) => {
    const r = parseDay(s, 'day')
    return r.ok ? r.value : sentence(r.problem)
  }
  expect(any('1999-12-31')).toBe('1999-12-31')
  expect(any('31 December 1999')).toBe('1999-12-31')
  for (const none of ['tomorrow', 'Friday', '31 December'])
    expect(any(none)).toBe(`"${none}" doesn't work for the day. Try 2026-03-14.`)
})

it.each(['__proto__', 'constructor'])('%s is no day', s => {
  expect(parseDay(s, 'concert', { from: TODAY }).ok).toBe(false)
})

it('a weekday is never today: the next one is 1 to 7 days ahead, the last one 1 to 7 days back', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 5000 }), fc.integer({ min: 1, max: 7 }), (n, away) => {
      const today = dayAfter('2024-01-01', n)
      const [next, last] = [dayAfter(today, away), dayAfter(today, -away)]
      expect(parseDay(weekday(next), 'day', { from: today })).toEqual({ ok: true, value: next })
      expect(parseDay(weekday(last), 'day', { to: today })).toEqual({ ok: true, value: last })
    }),
  )
})

it('a date without its year is the nearest one, and reads back as that day', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 5000 }), fc.integer({ min: 0, max: 364 }), (n, away) => {
      const today = dayAfter('2024-01-01', n)
      const [next, last] = [dayAfter(today, away), dayAfter(today, -away)]
      const dayAndMonth = (day: string): string => dayText(day, day)
      expect(parseDay(dayAndMonth(next), 'day', { from: today })).toEqual({ ok: true, value: next })
      expect(parseDay(dayAndMonth(last), 'day', { to: today })).toEqual({ ok: true, value: last })
    }),
  )
})

describe('how a day is said', () => {
  test('with its year where that is another', () => {
    expect([dayText('2026-03-28', TODAY), dayText('2027-03-28', TODAY)]).toEqual([
      'March 28',
      'March 28, 2027',
    ])
    expect(weekday(TODAY)).toBe('Saturday')
  })

  test.each([
    [0, 'today'],
    [1, 'tomorrow'],
    [-1, 'yesterday'],
    [2, 'in 2 days'],
    [-2, '2 days ago'],
    [40, 'in 40 days'],
  ])('%i days away is "%s"', (days, words) => {
    expect(daysAway(days)).toBe(words)
    expect(daysBetween(TODAY, dayAfter(TODAY, days))).toBe(days)
  })
})
