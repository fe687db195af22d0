import fc from 'fast-check'
import { expect, test } from 'vitest'
import { csvText } from '../../src/files/csv.ts'

const body = (text: string): string => text.slice(1)

test('a table has a heading, commas, and lines that end in CR LF (RFC 4180, 2)', () => {
  expect(
    csvText(
      ['date', 'minutes'],
      [
        ['2031-03-12', 32],
        ['2031-03-13', null],
      ],
    ),
  ).toBe('\ufeffdate,minutes\r\n2031-03-12,32\r\n2031-03-13,\r\n')
})

test('commas, quotation marks and line ends stand in quotation marks, doubled inside', () => {
  expect(body(csvText(['a'], [['m. 1, 2'], ['the "Weir"'], ['one\ntwo']]))).toBe(
    'a\r\n"m. 1, 2"\r\n"the ""Weir"""\r\n"one\ntwo"\r\n',
  )
})

test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', '\n=1', '\uff1d1'])(
  'the words %j are no formula',
  words => {
    expect(body(csvText([], [[words]]))).toContain(`'${words}`)
  },
)

test('numbers stay numbers, below nothing too', () => {
  expect(body(csvText([], [[-1, 0.25]]))).toBe('\r\n-1,0.25\r\n')
})

/** The grammar of RFC 4180 by hand: a second reading of the same page. */
const read = (text: string): string[][] => {
  const rows: string[][] = [[]]
  const cells = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/y
  for (let m = cells.exec(text); m; m = cells.exec(text)) {
    rows.at(-1)?.push(m[1]?.replaceAll('""', '"') ?? m[2] ?? '')
    if (m[3] === '\r\n') rows.push([])
    if (cells.lastIndex === text.length) return rows.slice(0, -1)
  }
  throw new Error(`not RFC 4180: ${JSON.stringify(text)}`)
}

test('whatever is in the cells, the same table is read back, but for an apostrophe before what would be a formula', () => {
  const words = fc.oneof(
    fc.string(),
    fc.string({ unit: fc.constantFrom('"', ',', '\r', '\n', '=', '@', 'a') }),
  )
  const table = fc
    .integer({ min: 1, max: 4 })
    .chain(n => fc.array(fc.array(words, { minLength: n, maxLength: n })))
  fc.assert(
    fc.property(table, rows => {
      const back = read(body(csvText(['head'], rows))).slice(1)
      expect(back).toEqual(rows.map(row => row.map(c => (/^[=+\-@\t\r\n]/.test(c) ? `'${c}` : c))))
    }),
    { numRuns: 3000 },
  )
})
