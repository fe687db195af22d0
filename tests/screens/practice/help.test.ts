import { describe, expect, test } from 'vitest'
import { helpLines, helpPages, helpSheet } from '../../../src/screens/help.ts'
import { takenFor } from '../../../src/screens/key-tables.ts'
import { practiceHelp } from '../../../src/screens/practice/spoken.ts'
import { USUAL_KEYS } from '../../../src/terminal/key-table.ts'
import { ONE, TWO } from '../controls.ts'
import { drawn } from '../drawn.ts'

const sizes = [
  { rows: 24, cols: 80 },
  { rows: 14, cols: 50 },
  { rows: 12, cols: 40 },
]

describe('the help of the practice screen', () => {
  test('in any window every row is whole, and every page says how it goes on', () => {
    for (const size of sizes)
      for (const controls of [ONE, TWO]) {
        const pages = helpPages(practiceHelp(controls), size)
        const words = pages.flat().join(' ').replaceAll(/\s+/g, ' ')
        expect(words).toContain('Keep the click quiet in headphones.')
        pages.forEach((page, at) => {
          const rows = drawn(helpSheet(pages, at, size))
          expect(rows.length).toBeLessThanOrEqual(size.rows)
          for (const row of page) {
            expect(rows.map(r => r.trim())).toContain(row.trim())
            expect(row.length).toBeLessThan(size.cols)
          }
          const on = at === pages.length - 1 ? 'Any key goes back.' : 'Any key: the next page.'
          expect(rows.join(' ').replaceAll(/\s+/g, ' ')).toContain(on)
          if (at < pages.length - 1) expect(rows.join(' ')).toMatch(/goes\s+back\./)
        })
      }
  })

  test('at 80x24 three pages are enough: the pedals, the keys, what lies beside the ladder', () => {
    for (const controls of [ONE, TWO])
      expect(helpPages(practiceHelp(controls), { rows: 24, cols: 80 }).length).toBeLessThanOrEqual(3)
  })

  test('names every key of the screen', () => {
    const named = helpLines(practiceHelp(TWO)).map(l => l.split(':')[0] ?? '')
    for (const key of 'twfrcCgGbsljyk?h[]+-') {
      expect(Object.keys(takenFor('right', USUAL_KEYS))).toContain(key)
      expect(
        named.some(n => n.split(' ').includes(key)),
        key,
      ).toBe(true)
    }
  })
})
