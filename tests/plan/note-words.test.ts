import { expect, test } from 'vitest'
import { sectionKey } from '../../src/ladder/key.ts'
import { aboutOf, lettersIn, notesLines, noteText } from '../../src/plan/note-words.ts'
import type { Note } from '../../src/repertoire/note.ts'
import { overture } from '../store/scene.ts'

const RUN = sectionKey('p0000002')
const note = (text: string, day: string, other: object = {}): Note =>
  ({
    kind: 'note',
    text,
    id: `${day} ${text}`,
    time: `2031-03-${day}T18:00:00Z`,
    offset: 0,
    ...other,
  }) as Note
const lettered = {
  ...overture,
  passages: overture.passages.map(p =>
    p.id === 'p0000002' ? { ...p, rehearsals: [{ at: '42', text: 'C' }] } : p,
  ),
}
const about = aboutOf([overture])
const said = (n: Note): string => noteText(n, lettersIn([overture]))

test('a note says its kind, what went wrong and where, and then its text', () => {
  expect(said(note('soft reed', '14'))).toBe('soft reed')
  expect(said(note('the shift', '14', { kind: 'tomorrow' }))).toBe('for tomorrow: the shift')
  expect(said(note('breath?', '14', { kind: 'teacher' }))).toBe('for the teacher: breath?')
  expect(said(note('', '14', { kind: 'pain' }))).toBe('pain')
  const wrong = { kind: 'wrong', what: 'rhythm', key: RUN }
  expect(said(note('too early', '14', { ...wrong, place: '43.2' }))).toBe(
    'went wrong: rhythm, m. 43, beat 2: too early',
  )
  expect(said(note('', '14', wrong))).toBe('went wrong: rhythm')
})

test('a place has its rehearsal mark where the passage has one, and the note is about something that is known', () => {
  const letters = lettersIn([lettered])
  const wrong = note('', '14', { kind: 'wrong', what: 'bow', place: '43.1', key: RUN })
  expect(noteText(wrong, letters)).toBe('went wrong: bow, m. 43 (C+1), beat 1')
  expect([letters(sectionKey('p0000001')), letters(sectionKey('gone0001'))]).toEqual([null, null])
  const { key: _, ...nowhere } = wrong as Note & { key: string }
  expect(noteText(nowhere as Note, letters)).toBe('went wrong: bow, m. 43, beat 1')
})

test('a note is about what was played, about a piece, or about nothing', () => {
  expect(about(note('', '14', { key: RUN }))).toBe('Weir Street Overture, run at the weir, m. 41-44')
  expect(about(note('', '14', { piece: overture.id }))).toBe('Weir Street Overture')
  expect(about(note('', '14', { piece: 'gone' }))).toBe('')
  expect(about(note('', '14'))).toBe('')
})

test('notes stand under their days, each day once, with what they are about, and their ids where asked for', () => {
  const notes = [
    note('warm hall', '12'),
    note('soft reed', '12', { piece: overture.id }),
    note('cold hall', '14'),
  ]
  const lines = (ids?: boolean) => notesLines(notes, '2031-03-14', about, () => null, ids)
  expect(lines()).toEqual([
    'Wednesday, March 12',
    '  warm hall',
    '  soft reed (Weir Street Overture)',
    'Friday, March 14',
    '  cold hall',
  ])
  expect(lines(true)[2]).toBe('  soft reed (Weir Street Overture)   12 soft reed')
  expect(lines(true)[1]).toBe('  warm hall   12 warm hall')
})
