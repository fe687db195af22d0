import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { parseDay } from '../../src/music/day-words.ts'
import { frac } from '../../src/music/fraction.ts'
import { feltBeat, meterText, parseMeter } from '../../src/music/meter.ts'
import { NOTE_VALUES, noteValueName, parseLength, parseNoteValue } from '../../src/music/note-value.ts'
import { type Result, sentence } from '../../src/music/result.ts'
import { parseTempo, typed } from '../../src/music/tempo.ts'
import { linesOf, readLines } from '../../src/repertoire/change-list.ts'
import { setFields, textIn } from '../../src/repertoire/field.ts'
import { CLIMB, PASSAGE } from '../../src/repertoire/fields.ts'
import type { Passage } from '../../src/repertoire/piece.ts'

const value = <T>(r: Result<T>): T => {
  if (!r.ok) throw new Error(sentence(r.problem))
  return r.value
}
const jig: Passage = {
  id: 'p0000009',
  name: 'jig',
  meter: '6/8',
  count: 8,
  pickup: null,
  goal: 'dotted-quarter=60',
}
const a = { today: '2026-03-24' }

describe('a tempo is read as it is printed', () => {
  // Unicode: U+2669 quarter note, U+266A eighth note, U+1D15E half note, U+1D15F quarter note.
  test.each([
    ['\u2669 = 104', '104'],
    ['\u2669. 60', 'dotted-quarter=60'],
    ['\u2669.=60', 'dotted-quarter=60'],
    ['\u2669..=60', 'double-dotted-quarter=60'],
    ['\u266a = 132', 'eighth=132'],
    ['\u{1d15e} = 66', 'half=66'],
    ['\u{1d15f}\u{1d16d} = 66', 'dotted-quarter=66'],
    ['quarter 104', '104'],
    ['dotted quarter = 60', 'dotted-quarter=60'],
    ['half 63.5', 'half=63.5'],
    ['112', '112'],
  ])('%s is %s', (s, says) => {
    expect(typed(value(parseTempo(s)))).toBe(says)
  })

  test.each(['\u2669', '= 60', 'soon', '12 x 5', 'crotchet 60', '\u2669 = 0', '60 70'])('%s is none', s => {
    expect(parseTempo(s).ok).toBe(false)
  })

  test('each note value with each number, with and without the sign between them', () => {
    fc.assert(
      fc.property(fc.constantFrom(...NOTE_VALUES), fc.integer({ min: 1, max: 999 }), (unit, n) => {
        const name = noteValueName(unit)
        const same = { unit, bpm: frac(n) }
        for (const s of [
          `${name}=${n}`,
          `${name} = ${n}`,
          `${name} ${n}`,
          `${name.replaceAll('-', ' ')} ${n}`,
        ])
          expect(parseTempo(s)).toEqual({ ok: true, value: same })
      }),
    )
  })
})

// Elementary theory, from memory: C is four quarters, the C with a stroke two halves.
test.each([
  ['C', '4/4'],
  ['c', '4/4'],
  ['\u00a2', '2/2'],
  ['C|', '2/2'],
  ['\u{1d134}', '4/4'],
  ['\u{1d135}', '2/2'],
])('the meter %s is %s', (s, says) => {
  expect(meterText(value(parseMeter(s)))).toBe(says)
})

test.each([
  ['14 March', '2027-03-14'],
  ['March 24', '2026-03-24'],
  ['28 mar', '2026-03-28'],
  ['1st of May', null],
  ['1st May', '2026-05-01'],
  ['Jan 2, 2027', '2027-01-02'],
  ['29 February', '2028-02-29'],
  ['30 February', null],
  ['14 Ma', null],
  ['14 March 2025', null],
  ['today', '2026-03-24'],
  ['tomorrow', '2026-03-25'],
  ['in 6 days', '2026-03-30'],
  ['in 2 weeks', '2026-04-07'],
  ['+1', '2026-03-25'],
  ['Friday', '2026-03-27'],
  // A Tuesday: the next one is in a week.
  ['tue', '2026-03-31'],
  ['yesterday', null],
  ['3 days ago', null],
])('on 24 March 2026 "%s" is %s', (s, day) => {
  const read = parseDay(s, 'ready by', { from: '2026-03-24' })
  expect(read.ok ? read.value : null).toBe(day)
})

test('a day of the past is the last one', () => {
  expect(parseDay('14 March', '--from', { to: '2026-03-24' })).toEqual({ ok: true, value: '2026-03-14' })
  expect(parseDay('28 March', '--from', { to: '2026-03-24' })).toEqual({ ok: true, value: '2025-03-28' })
  expect(parseDay('2 weeks ago', '--from', { to: '2026-03-24' })).toEqual({ ok: true, value: '2026-03-10' })
  expect(parseDay('Friday', '--from', { to: '2026-03-24' })).toEqual({ ok: true, value: '2026-03-20' })
  expect(parseDay('Tuesday', '--from', { to: '2026-03-24' })).toEqual({ ok: true, value: '2026-03-17' })
})

describe('a plain number counts the beat that is felt', () => {
  // Elementary theory, from memory: compound meters are felt in dotted notes.
  test.each([
    ['6/8', '3/8'],
    ['9/8', '3/8'],
    ['12/8', '3/8'],
    ['6/16', '3/16'],
    ['4/4', '1/4'],
    ['3/8', '1/4'],
    ['7/8', '1/4'],
    ['2/2', '1/4'],
  ])('%s: %s', (meter, felt) => {
    expect(feltBeat(value(parseMeter(meter)))).toEqual(value(parseLength(felt)))
  })

  test('as typed for a passage; quarters are named there, and files keep theirs', () => {
    expect(value(setFields(PASSAGE, jig, { goal: '66' }, a)).goal).toBe('dotted-quarter=66')
    expect(value(setFields(PASSAGE, jig, { goal: '66-72' }, a))).toMatchObject({
      goal: 'dotted-quarter=66',
      goalTop: 'dotted-quarter=72',
    })
    expect(value(setFields(PASSAGE, jig, { goal: '\u2669 = 66' }, a)).goal).toBe('66')
    expect(value(setFields(PASSAGE, { ...jig, meter: '4/4' }, { goal: '66' }, a)).goal).toBe('66')
    expect(textIn({ ...jig, goal: '180' }, 'goal', PASSAGE.goal as never)).toBe('quarter=180')
  })
})

test('several breaths in one line', () => {
  const read = (text: string) =>
    value(readLines('breaths', [{ text }], jig, { newId: () => 'x', isRhythm: () => false }))
  expect(read('3.2, 5.2')).toEqual([
    { at: '3.2', kind: 'breath' },
    { at: '5.2', kind: 'breath' },
  ])
  expect(read('3.2,5 caesura')).toHaveLength(2)
  expect(read('3.2 word=light, and short')).toEqual([{ at: '3.2', kind: 'breath', word: 'light, and short' }])
  expect(linesOf('breaths', jig)).toEqual([])
})

test('whatever is typed, each parser answers with a value or one sentence, and reads again what it shows', () => {
  const parsers = [
    parseTempo,
    parseMeter,
    parseNoteValue,
    parseLength,
    (s: string) => parseDay(s, 'day', { from: a.today }),
  ]
  const some = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 30 }),
    fc.stringMatching(/^[-+0-9./= \u2669.CcMarch|q;%]{0,12}$/),
  )
  fc.assert(
    fc.property(some, s => {
      for (const parse of parsers) {
        const read: Result<unknown> = parse(s)
        if (!read.ok) expect(sentence(read.problem)).toMatch(/^[^\n]+\.$/)
      }
      for (const [key, field] of Object.entries({ ...PASSAGE, ...CLIMB })) {
        const set = setFields({ [key]: field }, jig, { [key]: s }, a)
        if (!set.ok) expect(sentence(set.problem)).toMatch(/^[^\n]+\.$/)
        else {
          const shown = textIn(set.value, key, field as never)
          if (shown !== '') expect(setFields({ [key]: field }, set.value, { [key]: shown }, a)).toEqual(set)
        }
      }
    }),
    { numRuns: 60 },
  )
})
