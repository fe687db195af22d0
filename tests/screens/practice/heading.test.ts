import { expect, test } from 'vitest'
import { heading } from '../../../src/screens/practice/view.ts'

const date = 'ready by March 14, in 10 days'

test('title and date stand at the ends of the row where both fit', () => {
  const row = heading('Weir Street Overture   Coda run, m. 41-44', date, 78)
  expect(row).toHaveLength(78)
  expect(row).toMatch(/^Weir Street Overture {3}Coda run, m\. 41-44 +ready by March 14, in 10 days$/)
})

test('what is played of the passage is never cut for the date or the name of the piece', () => {
  const altered = heading('Weir Street Overture   Coda run, m. 41-44, long, short (dotted)', date, 78)
  expect(altered).toMatch(/m\. 41-44, long, short \(dotted\) +in 10 days$/)
  const long = heading(
    'Suite for the Opening of the Lower Weir   Coda run, m. 41-44, long, short (dotted)',
    date,
    78,
  )
  expect(long).toBe('Suite for the Ope…of the Lower Weir   Coda run, m. 41-44, long, short (dotted)')
  for (const width of [20, 40, 78]) {
    const row = heading(`${'Weir '.repeat(30)}  ${'run '.repeat(10)}, a try at the goal`, date, width)
    expect(row.length).toBeLessThanOrEqual(width)
    expect(row).toMatch(/at the goal$/)
  }
})
