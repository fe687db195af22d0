import { expect, it } from 'vitest'
import { localDay } from '../../src/music/day.ts'

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
