import { expect, test } from 'vitest'
import { readPart } from '../../src/score/read-part.ts'
import { head, must, note, partOf, rest, scoreOf, scoreText, text } from './scores.ts'

const fermata = '<notations><fermata/></notations>'
const holds = (...parts: readonly (readonly string[])[]) =>
  partOf(...parts)
    .breaths.filter(b => b.kind === 'fermata')
    .map(b => text(b.at))

// All hold together at a fermata, whichever part it is printed in (common practice, no source).
test('a fermata of another part holds here too, and it is told', () => {
  const mine = [head() + note(16), note(16)]
  const other = [head() + note(16), note(8) + note(8, fermata)]
  expect(holds(mine, other)).toEqual(['2'])
  expect(partOf(mine, other).warnings).toEqual([
    'fermatas of other parts hold here too: m. 2 (--own-holds leaves them out)',
  ])
  const score = scoreOf(scoreText(mine, other))
  const alone = must(readPart(score, 'P1', { from: 0, to: 1, ownHolds: true }))
  expect(alone.breaths).toEqual([])
})

test('in several voices and parts over notes that sound together it is one hold, at the end of the own note', () => {
  const mine = [head() + note(8) + note(8, fermata)]
  const other = [head() + note(8) + note(4, fermata) + rest(4)]
  expect(holds(mine, other)).toEqual(['1'])
  const voices = `${note(16, fermata)}<backup><duration>16</duration></backup>${note(8)}${note(8, fermata)}`
  expect(holds([head() + voices])).toEqual(['1'])
})

test('two of them one after the other stay two', () => {
  expect(holds([head() + note(8, fermata) + note(8, fermata)])).toEqual(['1/2', '1'])
})
