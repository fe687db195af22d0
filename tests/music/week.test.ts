import { describe, expect, test } from 'vitest'
import { parseWeek, playingDays, weekText, weekWords } from '../../src/music/day-words.ts'

const read = (s: string) => {
  const found = parseWeek(s)
  return found.ok ? weekText(found.value) : found.problem.accepted
}

describe('the days of the week on which somebody plays', () => {
  test.each([
    ['mon,wed,fri', 'mon,wed,fri'],
    ['Friday Monday', 'mon,fri'],
    ['Monday to Friday', 'mon,tue,wed,thu,fri'],
    ['mon-thu, sat', 'mon,tue,wed,thu,sat'],
    ['fri - mon', 'mon,fri,sat,sun'],
    ['tue and thu', 'tue,thu'],
    ['every day', 'every day'],
    ['mon-sun', 'every day'],
  ])('%s is read as %s', (typed, kept) => {
    expect(read(typed)).toBe(kept)
    expect(read(kept)).toBe(kept)
  })

  test.each(['', 'm', 'monday-', 'blue', 'mon-wed-fri', '5'])('"%s" is refused, with what to type', typed => {
    expect(read(typed)).toContain('mon,wed,fri')
  })

  test('they are said as a person says them', () => {
    const words = (s: string) => {
      const found = parseWeek(s)
      return found.ok && weekWords(found.value)
    }
    expect(words('mon-fri')).toBe('Monday to Friday')
    expect(words('tue-thu')).toBe('Tuesday to Thursday')
    expect(words('fri-sun')).toBe('Friday to Sunday')
    expect(words('sat-mon')).toBe('Monday, Saturday and Sunday')
    expect(words('mon,tue')).toBe('Monday and Tuesday')
    expect(words('mon,wed,sun')).toBe('Monday, Wednesday and Sunday')
    expect(words('sat,sun')).toBe('Saturday and Sunday')
    expect(words('tue')).toBe('Tuesday')
    expect(words('all')).toBe('every day')
  })

  test('from a Friday to a Wednesday, without the weekend: Friday, Monday, Tuesday', () => {
    const week = [1, 2, 3, 4, 5]
    expect(playingDays('2031-03-14', '2031-03-19', week)).toEqual(['2031-03-14', '2031-03-17', '2031-03-18'])
    expect(playingDays('2031-03-14', '2031-03-19')).toHaveLength(5)
    expect(playingDays('2031-03-19', '2031-03-14', week)).toEqual([])
  })
})
