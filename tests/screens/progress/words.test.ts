import { describe, expect, test } from 'vitest'
import { countedText, outlookText } from '../../../src/screens/progress/words.ts'

const TODAY = '2031-03-12'
const DATE = '2031-03-18'
const said = (o: Parameters<typeof outlookText>[0], ready = false) => outlookText(o, TODAY, DATE, ready)

describe('what may come', () => {
  test('after few days the pace that is needed', () => {
    const pace = { kind: 'pace', days: 5, gap: 0.19318, perDay: 0.036, rungs: 5, rungsPerDay: 1 } as const
    expect(said(pace)).toBe(
      'To the goal: 19.3 %, 5 rungs. Needed: 3.6 % a day for 5 days, a rung a day. Too early to look ahead.',
    )
    expect(said({ ...pace, days: null, perDay: null, rungsPerDay: null })).toBe(
      'To the goal: 19.3 %, 5 rungs. Too early to look ahead.',
    )
    expect(said({ ...pace, rungsPerDay: 1 / 13 })).toContain(' for 5 days, a rung in 13 days.')
    expect(said({ ...pace, rungsPerDay: 0.8 })).toContain(', a rung a day.')
    expect(said({ ...pace, rungsPerDay: 1.3 })).toContain(', 1.3 rungs a day.')
    expect(said({ ...pace, gap: null })).toBe('No ceiling yet.')
  })

  test('early: a middle and a range, or an open end', () => {
    expect(said({ kind: 'early', low: 3, middle: [4, 5], high: 10 })).toBe(
      'Ahead (early to say): about 4 to 5 more days of practice at this pace; could be 3 to 10.',
    )
    expect(said({ kind: 'early', low: 3, middle: [4, 5], high: null })).toBe(
      'Ahead (early to say): about 4 to 5 more days of practice at this pace; at least 3, and too early to say more.',
    )
  })

  test('later: against the date', () => {
    const range = { kind: 'range', low: 2, middle: [3, 3], high: 11 } as const
    expect(said({ ...range, against: 'not by then' })).toBe(
      'Ahead: about 3 more days of practice at this pace; could be 2 to 11. For March 18: not by then, if it goes on like this.',
    )
    expect(said({ ...range, against: null })).not.toContain('March')
    expect(said({ kind: 'open', against: null })).toBe('Ahead: too early to say.')
    expect(said({ kind: 'range', low: 12, middle: null, high: null, against: 'on the day' })).toBe(
      'Ahead: at least 12 days of practice; too early to say more. For March 18: ready on the day, perhaps.',
    )
  })

  test('level: another way, and no number of days ahead', () => {
    expect(said({ kind: 'level', days: 3 })).toMatch(/^Level for three days. Try a smaller section/)
  })

  test('reached is not yet ready', () => {
    expect(said({ kind: 'reached' })).toContain('What is left')
    expect(said({ kind: 'reached' }, true)).toMatch(/^Ready/)
  })
})

describe('what was counted', () => {
  const counted = { days: 5, minutes: 42.4, clean: 61, verdicts: 74, takes: 2, cleanTakes: 1, secure: '104' }

  test('days, minutes, clean share, cold takes', () => {
    expect(countedText(counted)).toBe(
      '5 days of practice, 42 minutes, 61 of 74 clean (82 %), cold takes: 1 of 2 clean, secure 104',
    )
  })

  test('repetitions where there are no minutes; nothing that was not played', () => {
    expect(countedText({ ...counted, days: 1, minutes: 0, takes: 0, cleanTakes: 0, secure: null })).toBe(
      '1 day of practice, 74 repetitions, 61 of 74 clean (82 %)',
    )
  })
})
