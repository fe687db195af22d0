import fc from 'fast-check'
import { expect, test } from 'vitest'
import { markdownText, plainText } from '../../src/files/page.ts'
import { printable } from '../../src/music/result.ts'

/** The cells of a row of a GFM table, as the specification reads them (GFM 4.10): split at bars that have no backslash. */
const cells = (row: string): readonly string[] =>
  row
    .slice(1, -1)
    .split(/(?<=(?:^|[^\\])(?:\\\\)*)\|/)
    .map(c => c.trim().replace(/\\([!-/:-@[-`{-~])/g, '$1'))

const HOSTILE = fc.string({
  unit: fc.constantFrom(...'|\\`*_[]()<>&~!#+-=.1:/@$ \n\tabß'),
  maxLength: 30,
})

test('whatever a cell holds, the table keeps its columns and shows the cell to the letter', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(HOSTILE, HOSTILE), { minLength: 1, maxLength: 4 }), rows => {
      const lines = markdownText([{ kind: 'table', head: ['a', 'b'], rows }])
        .trimEnd()
        .split('\n')
      expect(lines).toHaveLength(rows.length + 2)
      const shown = rows.map(row => row.map(c => printable(c).trim()))
      expect(lines.slice(2).map(cells)).toEqual(shown)
    }),
    { numRuns: 500 },
  )
})

test('no mark of Markdown or HTML is left that could begin something else', () => {
  const page = markdownText([
    { kind: 'text', text: '# no heading <img src=x onerror=y> *no* `code` [link](https://x.example)' },
    { kind: 'list', items: ['- not nested', '1. not numbered', 'www.x.example &amp; me@x.example'] },
  ])
  expect(page).toBe(
    [
      '\\# no heading \\<img src=x onerror=y\\> \\*no\\* \\`code\\` \\[link\\](https\\://x.example)',
      '',
      '- \\- not nested',
      '- 1\\. not numbered',
      '- www\\.x.example \\&amp; me\\@x.example',
      '',
    ].join('\n'),
  )
})

test('plain text has columns, no marks, and no control characters', () => {
  const table = { kind: 'table', head: ['place', 'stops'], rows: [['m. 43\u001b[2J', '12']] } as const
  expect(plainText([{ kind: 'title', text: 'Weir' }, table])).toBe(
    'Weir\n\nplace      stops\nm. 43 [2J  12\n',
  )
})
