import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
import type { Item, Unplaced } from '../../src/plan/item.ts'
import { restMinutes, type Since, withRests } from '../../src/plan/rests.ts'

/** A visit, or a single take, of so many minutes. */
const visit = (minutes: number): Unplaced => ({
  task: { kind: 'seam', key: `${minutes}`, label: '', from: null },
  minutes,
})
const take = (minutes: number): Unplaced => ({
  task: { kind: 'cold', take: { key: `${minutes}`, label: '', tempo: null } },
  minutes,
})
const MORNING: Since = { music: 0, rested: false }
const restsIn = (items: readonly Item[]) => items.filter(i => i.kind === 'rest')
/** After how many minutes of music each rest comes. */
const places = (items: readonly Item[]): readonly number[] => {
  let music = 0
  return items.flatMap(i => {
    if (i.kind !== 'rest') music += i.minutes
    return i.kind === 'rest' ? [music] : []
  })
}

describe('how long the rests of a day are together', () => {
  test.each([
    // Fifteen minutes of music need none.
    [15, 0],
    // A sixth of a short day, in half minutes.
    [15.5, 3],
    [18, 3],
    [21, 3.5],
    [30, 5],
    [45, 5],
    // An hour has 40 minutes of music at most before its only rest would be longer than eight: then there are two.
    [48, 8],
    [48.5, 10],
    [73, 10],
    [79, 16],
    [79.5, 15],
    [110, 24],
    [110.5, 20],
  ])('%s minutes: %s', (minutes, rests) => {
    expect(restMinutes(minutes)).toBe(rests)
  })

  test('what was played since the last rest comes off the first stretch; after a rest that may be longer', () => {
    expect(restMinutes(10, { music: 5, rested: false })).toBe(0)
    expect(restMinutes(10.5, { music: 5, rested: false })).toBe(2)
    expect(restMinutes(25, { music: 0, rested: true })).toBe(0)
    expect(restMinutes(25, { music: 1, rested: true })).toBe(4.5)
    expect(restMinutes(38, { music: 40, rested: false })).toBe(10)
    expect(restMinutes(33, { music: 40, rested: false })).toBe(8)
  })

  test('no rest is more than eight minutes, none less than five in a day of half an hour, and as few as that allows', () => {
    let longest = 0
    for (let minutes = 30; minutes <= 230; minutes += 0.5) {
      const rests = restMinutes(minutes)
      const music = minutes - rests
      // Two minutes of each later stretch are kept free: a rest finds no place inside a single take.
      const most = (n: number): number => 15 + 25 * n - 2 * (n - 1)
      const fewest = [1, 2, 3, 4, 5, 6, 7].find(n => minutes - 8 * n <= most(n)) as number
      expect(music, `${minutes}`).toBeLessThanOrEqual(most(fewest))
      expect(rests, `${minutes}`).toBeGreaterThanOrEqual(5 * fewest)
      expect(rests, `${minutes}`).toBeLessThanOrEqual(8 * fewest)
      // No minute of rest more than that asks for.
      if (rests > 5 * fewest) expect(music, `${minutes}`).toBe(most(fewest))
      longest = Math.max(longest, rests / fewest)
    }
    expect(longest).toBe(8)
  })

  test('they differ by half a minute at most, the longer ones first', () => {
    const minutes = 77.5
    const lengths = restsIn(withRests([visit(minutes - restMinutes(minutes))], 0, minutes)).map(
      i => i.minutes,
    )
    expect(lengths).toEqual([7.5, 7])
  })
})

describe('where the rests are', () => {
  const halves = (minutes: number): readonly Unplaced[] =>
    Array.from({ length: minutes * 2 }, () => take(0.5))
  const full = (music: number, from = 0, since = MORNING) => {
    const minutes = [0, 1, 2, 3, 4, 5, 6]
      .flatMap(n => Array.from({ length: 17 }, (_, i) => music + 5 * n + (n * i) / 2))
      .find(m => m - restMinutes(m, since) === music)
    return places(withRests(halves(music), from, minutes ?? music + 5, since))
  }

  test('they divide the music into equal parts, as far as the first one may wait', () => {
    expect(full(22)).toEqual([11])
    expect(full(28)).toEqual([14])
    expect(full(34)).toEqual([15])
    // The second one half way through what is left.
    expect(full(45)).toEqual([15, 30])
    expect(full(60)).toEqual([15, 37.5])
  })

  test('never before ten minutes, and so late that the last stretch is no longer than 25', () => {
    expect(full(16)).toEqual([10])
    expect(full(40)).toEqual([15])
    expect(full(63)).toEqual([15, 39])
  })

  test('after a warm-up of ten minutes the first one comes as soon as it may, with two minutes to spare for each', () => {
    expect(full(22, 10)).toEqual([12])
    expect(full(22, 9.5)).toEqual([11])
    expect(full(39, 12)).toEqual([15])
    expect(full(37, 12)).toEqual([14])
    expect(full(60, 12)[0]).toBe(14)
  })

  test('what was played before counts for the first one alone', () => {
    expect(full(22, 0, { music: 4, rested: false })).toEqual([11])
    expect(full(22, 0, { music: 6, rested: false })).toEqual([9])
    expect(full(22, 0, { music: 12, rested: false })).toEqual([3])
    expect(full(40, 0, { music: 10, rested: true })).toEqual([15])
    expect(full(36, 0, { music: 3, rested: false })).toEqual([12])
  })

  test('between two things rather than inside a visit, and inside one rather than late', () => {
    const rests = (...blocks: readonly Unplaced[]) => {
      const music = blocks.reduce((sum, b) => sum + b.minutes, 0)
      return places(withRests(blocks, 0, music + 5))
    }
    // Half of 24 is 12; what ends at 10.5 is near enough, what ends at 9.5 is too early.
    expect(rests(visit(10.5), visit(13.5))).toEqual([10.5])
    expect(rests(visit(9.5), visit(14.5))).toEqual([12])
    // The nearest of several.
    expect(rests(visit(10), visit(1.5), visit(2), visit(10.5))).toEqual([11.5])
    // Two minutes on both sides, where that can be, else half a one.
    expect(rests(take(9.5), visit(6), take(6))).toEqual([11.5])
    expect(rests(take(9.5), visit(7.5), take(8))).toEqual([12.5])
    expect(rests(take(9), visit(6.5), take(17.5))).toEqual([13.5])
    // Here it may come after 15 minutes alone, or the rest of the day would be too long.
    expect(rests(take(13.5), visit(2.5), take(24))).toEqual([15])
    expect(rests(take(14.5), visit(1), take(24.5))).toEqual([15])
    // Takes are never cut: then at the nearest end, if there is one.
    expect(rests(take(9.5), take(12))).toEqual([9.5])
    expect(rests(take(17), take(3), take(2))).toEqual([17])
    expect(rests(take(22))).toEqual([])
  })

  test('a visit that a rest cuts goes on where it stopped; a seam begins as it did', () => {
    const section: Unplaced = {
      task: {
        kind: 'section',
        key: 'A',
        label: '',
        from: tempo(80),
        again: false,
        over: 60,
        ceiling: null,
        goal: tempo(120),
        top: null,
        toPass: 4,
        why: 'gap',
      },
      minutes: 20,
    }
    const items = withRests([section], 0, 25)
    expect(items.map(i => [i.kind, i.at, i.minutes])).toEqual([
      ['section', 0, 10],
      ['rest', 10, 4.5],
      ['section', 14.5, 10],
    ])
    expect(items[0]).toMatchObject({ again: false, from: tempo(80), toPass: 4 })
    expect(items[2]).toMatchObject({ again: true, from: null, toPass: null })
    expect(withRests([visit(20)], 0, 25)[2]).toMatchObject({ kind: 'seam', key: '20' })
  })

  test('a day that is not filled needs none up to fifteen minutes of music, those since the last rest among them', () => {
    const rests = (music: number, minutes: number, since = MORNING) =>
      restsIn(withRests([visit(5), visit(music - 5)], 0, minutes, since)).length
    expect([15, 15.5].map(m => rests(m, 40))).toEqual([0, 1])
    expect([10, 10.5].map(m => rests(m, 40, { music: 5, rested: false }))).toEqual([0, 1])
    // Of a day that is full the rest is part.
    expect(rests(14, 17)).toBe(1)
  })

  test('law: all music in its order and in its minutes, one thing after the other, the visit alone cut', () => {
    const half = (least: number, most: number) =>
      fc.integer({ min: least * 2, max: most * 2 }).map(n => n / 2)
    const block = fc.oneof(half(0.5, 12).map(visit), half(0.5, 4).map(take))
    let cut = 0
    fc.assert(
      fc.property(
        fc.array(block, { minLength: 1, maxLength: 20, size: 'max' }),
        half(0, 30),
        fc.boolean(),
        fc.constantFrom(0, 4, 12),
        (blocks, music, rested, from) => {
          const since = { music, rested }
          const total = blocks.reduce((sum, b) => sum + b.minutes, 0)
          const items = withRests(blocks, from, total + 10, since)
          let at = from
          for (const i of items) {
            expect([i.at, i.minutes > 0]).toEqual([at, true])
            at += i.minutes
          }
          const parts = items.filter(i => i.kind !== 'rest')
          let n = 0
          for (const b of blocks) {
            let sum = 0
            const first = n
            while (sum < b.minutes) sum += (parts[n++] as Item).minutes
            expect(sum).toBe(b.minutes)
            if (n > first + 1) cut++
            if (n > first + 1) expect(b.task.kind).toBe('seam')
            expect(new Set(parts.slice(first, n).map(p => p.kind))).toEqual(new Set([b.task.kind]))
          }
          expect(n).toBe(parts.length)
        },
      ),
      { numRuns: 100 },
    )
    expect(cut).toBeGreaterThan(5)
  })
})
