import { describe, expect, test } from 'vitest'
import { bigText, fitted } from '../../src/screens/glyphs.ts'

const SIGNS = ['READY', '?', 'NEXT?', 'HELD', 'CLEAN', 'SLIP', 'UP', 'DOWN', 'GOAL', 'REST', 'IN']
const CHARACTERS = [...new Set([...SIGNS.join(''), ...'0123456789.'])]

describe('large figures and letters', () => {
  test('has all that signs are written with', () => {
    for (const c of CHARACTERS) expect(bigText(c, 7)[0], c).not.toBe('')
  })

  test('no two look alike, in any size, but the letter O and a small nought', () => {
    for (const rows of [3, 4, 5, 7, 9, 11, 16, 20]) {
      const all = CHARACTERS.filter(c => rows > 5 || c !== 'O').map(c =>
        bigText(c, rows)
          .map(r => r.trimEnd())
          .join('\n'),
      )
      expect(new Set(all).size, `${rows} rows`).toBe(all.length)
    }
  })

  test('are drawn of half blocks only, as many rows as asked for, all as wide', () => {
    for (const sign of SIGNS)
      for (const rows of [3, 7, 20]) {
        const all = bigText(sign, rows)
        expect(all).toHaveLength(rows)
        expect(all.join('')).toMatch(/^[ █▀▄]+$/)
        expect(new Set(all.map(r => r.length)).size).toBe(1)
      }
  })

  test('grow with the rows, and shrink to the columns there are, down to three rows', () => {
    expect(bigText('112', 14)[0]?.length).toBeGreaterThan(bigText('112', 7)[0]?.length ?? 0)
    expect(fitted('112', 20, 30)?.length).toBeLessThan(20)
    expect(fitted('112', 20, 30)?.[0]?.length).toBeLessThanOrEqual(30)
    expect(fitted('READY', 3, 20)).toBeNull()
  })

  test('every sign fits in three rows of 37 columns', () => {
    for (const sign of [...SIGNS, 'IN 12', 'REST 24']) expect(fitted(sign, 3, 37), sign).not.toBeNull()
  })
})
