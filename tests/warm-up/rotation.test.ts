import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { allKeys, keyText } from '../../src/music/keys.ts'
import { keysOfDay, type PlayedKey, WITHIN } from '../../src/warm-up/rotation.ts'

const KEYS = allKeys('major').map(keyText)
const date = (n: number): string => new Date(Date.UTC(2031, 2, 3) + n * 86_400_000).toISOString().slice(0, 10)

/** Plays what is proposed on each of these days. */
const practice = (days: readonly number[], before: readonly PlayedKey[] = []) => {
  const played = [...before]
  const many: number[] = []
  for (const n of days) {
    const keys = keysOfDay(KEYS, played, date(n))
    many.push(keys.length)
    for (const key of keys) played.push({ key, day: date(n) })
  }
  return { played, many }
}

/** The longest time for which a key was left, from the first day on to the last. */
const longest = (played: readonly PlayedKey[], first: number, last: number): number =>
  Math.max(
    ...KEYS.map(key => {
      const days = [...new Set(played.filter(p => p.key === key).map(p => p.day))].sort()
      const all = [date(first - 1), ...days, date(last)].map(d => Date.parse(d) / 86_400_000)
      return Math.max(...all.slice(1).map((d, i) => d - (all[i] as number)))
    }),
  )

const range = (n: number): number[] => [...Array(n).keys()]

describe('the keys of the day', () => {
  it('begin at the top of the circle and go round it, one a day', () => {
    const { played, many } = practice(range(24))
    expect(many.every(n => n === 1)).toBe(true)
    expect(played.map(p => p.key)).toEqual([...KEYS, ...KEYS])
  })

  it('leave no key for more than 14 days, as long as no more than three lie between two warm-ups', () => {
    const steps = fc.array(fc.integer({ min: 1, max: 3 }), { minLength: 20, maxLength: 60 })
    fc.assert(
      fc.property(steps, gaps => {
        let day = 0
        const days = [0, ...gaps.map(g => (day += g))]
        expect(longest(practice(days).played, 0, days.at(-1) as number)).toBeLessThanOrEqual(WITHIN)
      }),
    )
  })

  it.each([
    ['on weekdays', [0, 1, 2, 3, 4], 2],
    ['on three days a week', [0, 2, 4], 4],
  ])('are few %s, never all at once', (_, weekdays, most) => {
    const days = range(20).flatMap(w => weekdays.map(d => 7 * w + d))
    const { played, many } = practice(days)
    expect(longest(played, 0, days.at(-1) as number)).toBeLessThanOrEqual(WITHIN)
    expect(Math.max(...many.slice(weekdays.length))).toBeLessThanOrEqual(most)
  })

  it('after a long holiday come back a few a day, the longest untouched first', () => {
    const before = practice(range(12)).played
    const first = keysOfDay(KEYS, before, date(60))
    expect(first).toEqual([KEYS[0]])
    const after = practice(
      range(13).map(n => 60 + n),
      before,
    )
    expect(new Set(after.played.filter(p => p.day >= date(60)).map(p => p.key)).size).toBe(12)
    expect(Math.max(...after.many)).toBeLessThanOrEqual(2)
  })

  it('stay the same for the rest of a day, and heed no other keys', () => {
    const played = [
      { key: 'C major', day: date(4) },
      { key: 'X', day: date(1) },
    ]
    expect(keysOfDay(KEYS, played, date(5))).toEqual(['G major'])
    expect(keysOfDay(KEYS, [...played, { key: 'G major', day: date(5) }], date(5))).toEqual(['G major'])
    expect(keysOfDay(['C major'], [], date(0))).toEqual(['C major'])
  })
})
