import fc from 'fast-check'
import { XMLValidator } from 'fast-xml-parser'
import { expect, test } from 'vitest'
import { parseXml } from '../../src/score/xml.ts'
import { direction, head, mark, note, scoreText, words } from '../score/scores.ts'

/** Source: the validator of fast-xml-parser 5.12.1. What it refuses in a damaged score is refused here too. */
const score = scoreText([
  `${head()}<!-- "a" > b -->${mark('quarter', '60')}${note(16)}`,
  direction('<rehearsal>A &amp; B</rehearsal>') +
    words("l'istesso", "<sound tempo='90'/>") +
    note(8) +
    note(8),
])
/** The validator does not know quotes in a document type, so that stays whole. */
const BEHIND_TYPE = score.indexOf('<score-partwise')

test('a score that was damaged is refused wherever a general validator refuses it', () => {
  const pieces = [
    '<',
    '>',
    '/',
    '"',
    "'",
    '=',
    '&',
    ' ',
    '<!--',
    '-->',
    '<b>',
    '</b>',
    '<b/>',
    ']]>',
    '<?',
    'x',
  ]
  const change = fc.tuple(
    fc.integer({ min: BEHIND_TYPE, max: score.length - 1 }),
    fc.constantFrom(0, 0, 0, 1, 3),
    fc.constantFrom('', ...pieces),
  )
  let [refused, taken] = [0, 0]
  fc.assert(
    fc.property(fc.array(change, { minLength: 1, maxLength: 2 }), changes => {
      let text = score
      for (const [at, length, put] of changes) text = text.slice(0, at) + put + text.slice(at + length)
      const theirs = XMLValidator.validate(text) === true
      if (theirs) taken++
      else refused++
      if (!theirs) expect(parseXml(text, 'weir.xml').ok, text).toBe(false)
    }),
    { numRuns: 2000 },
  )
  expect(refused).toBeGreaterThan(500)
  expect(taken).toBeGreaterThan(100)
})
