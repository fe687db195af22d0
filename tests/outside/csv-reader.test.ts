import { expect, test } from 'vitest'
import { csvText } from '../../src/files/csv.ts'
import { installed, orSkipped, runOn } from './tools.ts'

const ROWS = [
  ['Weir Street Overture', 'm. 41-44, "the run"', 32, 0.75],
  ['Étude, one\ntwo', '', 0, null],
  ['=1+1', '@home', -4, 1.5],
] as const

// Source: RFC 4180 (2005), section 2, as the csv module of Python (docs.python.org/3/library/csv.html) reads it; the
// apostrophe before = and @ is OWASP advice, "CSV Injection" (owasp.org; from memory).
test.skipIf(!installed('python3'))(
  `the csv module of Python reads the same table${orSkipped('python3')}`,
  () => {
    const program =
      'import csv, json, sys; print(json.dumps(list(csv.reader(open(sys.argv[1], encoding="utf-8-sig", newline="")))))'
    const text = csvText(['piece', 'passage', 'minutes', 'share'], ROWS)
    const read = JSON.parse(runOn(Buffer.from(text), 'python3', path => ['-c', program, path]))
    expect(read).toEqual([
      ['piece', 'passage', 'minutes', 'share'],
      ['Weir Street Overture', 'm. 41-44, "the run"', '32', '0.75'],
      ['Étude, one\ntwo', '', '0', ''],
      ["'=1+1", "'@home", '-4', '1.5'],
    ])
  },
)
