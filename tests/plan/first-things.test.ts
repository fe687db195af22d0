import { expect, test } from 'vitest'
import { firstLines, firstOfDay } from '../../src/plan/cautions.ts'
import { PAIN_TEXT } from '../../src/plan/words.ts'
import type { Note } from '../../src/repertoire/note.ts'

const note = (text: string, more: Partial<Note> = {}): Note =>
  ({ kind: 'tomorrow', text, id: text, time: '2031-03-14T18:00:00Z', offset: 0, ...more }) as Note
const NOTES = [note('the shift in m. 43', { key: 'section run even' }), note('tune to the oboe')]

test('what comes first stands on the first screen of the day until it is done', () => {
  expect(firstOfDay(NOTES, '2031-03-15', () => false)).toEqual([
    'First: the shift in m. 43',
    'First: tune to the oboe',
  ])
  expect(firstOfDay(NOTES, '2031-03-15', key => key === 'section run even')).toEqual([
    'First: tune to the oboe',
  ])
})

test('and on the screen of its own music, nowhere else', () => {
  expect(firstLines(NOTES, '2031-03-15', 'section run even')).toEqual(['First: the shift in m. 43'])
  expect(firstLines(NOTES, '2031-03-15', 'section coda even')).toEqual([])
})

test('after pain today nothing comes first but to stop', () => {
  const pain = note('', { kind: 'pain', time: '2031-03-15T10:00:00Z' })
  expect(firstLines([...NOTES, pain], '2031-03-15', 'section run even')).toEqual([PAIN_TEXT])
})
