import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Form, measures } from '../../src/music/form.ts'
import { add, equal, type Frac, frac, less, zero } from '../../src/music/fraction.ts'
import {
  beatPlaceAt,
  filedFrom,
  measureRanges,
  measureWords,
  type Numbered,
  numbersBetween,
  parseMeasure,
  parsePlace,
  placeAt,
  placeShown,
  placeWords,
  shownFrom,
  stretchWords,
} from '../../src/music/place.ts'
import { sentence } from '../../src/music/result.ts'
import { meter, music, tempoOf } from '../click/support.ts'
import { anyText } from './any.ts'
import { formAndSpan } from './any-form.ts'

const read = (s: string, of: Numbered): Frac | string => {
  const r = parsePlace(s, of)
  return r.ok ? r.value : sentence(r.problem)
}

/** Measures 41 to 44 of 4/4, with a pick-up of a quarter in 40. */
const run: Numbered = { form: music('4/4', 4, '96', frac(1, 4)), numbers: ['40', '41', '42', '43', '44'] }

describe('a place in a passage', () => {
  it.each([
    ['43', frac(9, 4)],
    ['43.1', frac(9, 4)],
    ['43.2', frac(5, 2)],
    ['43+3/16', frac(39, 16)],
    ['43+6/32', frac(39, 16)],
    ['43+dotted-eighth', frac(39, 16)],
    ['43.2+eighth', frac(21, 8)],
    ['43.2+1/12', frac(31, 12)],
    ['43.2+sixteenth', frac(41, 16)],
    [' 41 ', frac(1, 4)],
    ['40', zero],
    ['40.4', zero],
    ['40+7/8', frac(1, 8)],
    ['end', frac(17, 4)],
    ['44+1', frac(17, 4)],
  ])('"%s" is so many whole notes from the first note', (s, at) => {
    expect(read(s, run)).toEqual(at)
  })

  it.each([
    [
      '45',
      /^"45".* for the place.* Try a measure from 40 to 44, like 44, 44\.2 \(its second beat\) or 44\.2\+eighth/,
    ],
    ['4', /a measure from 40 to 44/],
    ['430', /a measure from 40 to 44/],
    ['43.5', /^"43\.5".* for the place.* Try in measure 43 a beat from 1 to 4, or \+ and a fraction\.$/],
    ['43.0', /a beat from 1 to 4/],
    ['43+1/0', /a beat from 1 to 4/],
    ['43+-1/4', /a beat from 1 to 4/],
    ['43+1', /the part of measure 43 that belongs to the music here/],
    ['40.3', /the part of measure 40 that belongs/],
    ['', /^The place is missing/],
  ])('"%s" is refused with what is accepted', (s, said) => {
    expect(read(s, run)).toMatch(said)
  })

  it('beats are those of the meter: two in 6/8, three in 2+2+3/8, whatever note value the tempo counts', () => {
    const six: Numbered = { form: music('6/8', 1, 'eighth=120'), numbers: ['7'] }
    expect([read('7.2', six), read('7.3', six)]).toEqual([frac(3, 8), expect.stringMatching(/from 1 to 2/)])
    const seven: Numbered = { form: music('2+2+3/8', 1, '96'), numbers: ['7'] }
    expect(read('7.3', seven)).toEqual(frac(1, 2))
  })

  it('a measure may be called anything, and be longer than another one’s name', () => {
    const of: Numbered = { form: music('3/4', 4, '96'), numbers: ['1', '12', 'X1', '12a'] }
    expect(['1', '12', 'X1', '12a', '12a.2', 'X1+1/8'].map(s => read(s, of))).toEqual([
      zero,
      frac(3, 4),
      frac(3, 2),
      frac(9, 4),
      frac(5, 2),
      frac(13, 8),
    ])
  })

  it('a number that a repeat brings back is told apart by its time', () => {
    const of: Numbered = { form: music('4/4', 4, '96'), numbers: ['5', '6', '5', '7'] }
    expect(['5', '5(1).2', '5(2)', '5(2).3'].map(s => read(s, of))).toEqual([
      zero,
      frac(1, 4),
      frac(2),
      frac(5, 2),
    ])
    expect(placeAt(frac(5, 2), of)).toBe('5(2).3')
    expect(read('5(3)', of)).toMatch(/a measure from 5 to 7/)
    expect(parseMeasure('5(2)', of.numbers)).toEqual({ ok: true, value: 2 })
    expect(parseMeasure('5.2', of.numbers).ok).toBe(false)
  })

  it('is written as shortly as it can be', () => {
    const texts = [zero, frac(1, 8), frac(1, 4), frac(9, 4), frac(5, 2), frac(39, 16), frac(17, 4)]
    expect(texts.map(at => placeAt(at, run))).toEqual([
      '40.4',
      '40+7/8',
      '41',
      '43',
      '43.2',
      '43+3/16',
      'end',
    ])
  })

  it('between two beats it is shown by the beat before it and a note value', () => {
    const at = [frac(39, 16), frac(21, 8), frac(31, 12), frac(5, 2), frac(9, 4), frac(17, 4), frac(1, 8)]
    expect(at.map(a => placeShown(a, run))).toEqual([
      '43+dotted-eighth',
      '43.2+eighth',
      '43.2+1/12',
      '43.2',
      '43',
      'end',
      '40.4+eighth',
    ])
    expect(shownFrom('43+3/8', run)).toBe('43.2+eighth')
    expect(filedFrom('43.2+eighth', run)).toBe('43+3/8')
    // What is no such place stays as somebody typed it.
    for (const text of ['43.2', '43', 'end', 'C+4', '49+1/8', '43.9+eighth', 'tutti'])
      expect([shownFrom(text, run), filedFrom(text, run)]).toEqual([text, text])
  })

  it('whatever the music and its numbers, what is written or shown reads back', () => {
    const tokens = fc.constantFrom('1', '2', '12', 'X1', '12a', '40', '1.2')
    let repeated = 0
    let between = 0
    fc.assert(
      fc.property(
        formAndSpan,
        fc.array(tokens, { minLength: 16, maxLength: 16 }),
        ({ form, from, to }, names) => {
          const of = { form, numbers: names.slice(0, measures(form).length) }
          if (new Set(of.numbers).size < of.numbers.length) repeated++
          for (const at of [from, to, form.length]) {
            const [written, shown] = [placeAt(at, of), placeShown(at, of)]
            expect(read(written, of)).toEqual(at)
            expect(read(shown, of)).toEqual(at)
            // Files keep their one form.
            if (shown !== written) expect(filedFrom(shown, of)).toBe(written)
            if (!/\+\d+\/\d+$/.test(shown)) between += Number(shown !== written)
          }
        },
      ),
      { numRuns: 500 },
    )
    expect(repeated).toBeGreaterThan(50)
    expect(between).toBeGreaterThan(50)
  })

  it('nothing that is typed throws', () => {
    const typed = fc.oneof(
      anyText,
      fc.tuple(fc.constantFrom(...run.numbers), anyText).map(t => t.join('')),
    )
    const half: Form = { ...music('7/8', 5, '96'), marks: [{ at: zero, tempo: tempoOf('60') }] }
    fc.assert(
      fc.property(typed, s => {
        for (const of of [
          run,
          { form: { ...half, meters: [{ at: zero, meter: meter('7/8') }] }, numbers: run.numbers },
        ]) {
          const r = parsePlace(s, of)
          if (r.ok) expect(less(r.value, zero) || less(of.form.length, r.value)).toBe(false)
          else expect(r.problem.got).toBe(s)
        }
      }),
      { numRuns: 2000 },
    )
  })

  it('each beat of each measure is named by its number', () => {
    const bars = measures(run.form)
    const whole = bars.slice(1).flatMap((m, i) =>
      [1, 2, 3, 4].map(b => {
        const at = add(m.from, frac(b - 1, 4))
        return placeAt(at, run) === (b === 1 ? `${41 + i}` : `${41 + i}.${b}`) && !equal(at, run.form.length)
      }),
    )
    expect(whole).toEqual(Array(16).fill(true))
  })
})

describe('a rehearsal mark is a place like a number', () => {
  const letters = [
    { text: 'C', index: 2 },
    { text: 'Più mosso', index: 3 },
  ]
  it.each([
    ['C', '42'],
    ['letter c', '42'],
    ['C+2', '44'],
    ['C.3', '42.3'],
    ['C+1.2', '43.2'],
    ['C+3/16', '42+3/16'],
    ['C.2+eighth', '42+3/8'],
    ['C+eighth', '42+1/8'],
    ['C+1.2+16th', '43+5/16'],
    ['più mosso', '43'],
  ])('%s is %s', (typed, number) => {
    expect(read(typed, { ...run, letters })).toEqual(read(number, run))
  })

  it('a measure beyond the end, or a mark that is not there, is refused and the marks are said', () => {
    for (const typed of ['C+3', 'D', 'C+'])
      expect(read(typed, { ...run, letters })).toMatch(/rehearsal mark: C/)
    expect(read('C', run)).toMatch(/^place: |isn't|doesn't/)
  })
})

describe('a place, said to the player', () => {
  it.each([
    ['43', 'm. 43'],
    ['43.2', 'm. 43, beat 2'],
    ['43+1/8', 'm. 43, an eighth after the bar line'],
    ['43+1/4', 'm. 43, a quarter after the bar line'],
    ['43+3/16', 'm. 43, 3 sixteenths after the bar line'],
    ['43+1/2', 'm. 43, a half after the bar line'],
    ['43+5/32', 'm. 43, 5 thirty-seconds after the bar line'],
    ['43+1/12', 'm. 43, 1/12 of a whole note after the bar line'],
    ['43.2+eighth', 'm. 43, an eighth after beat 2'],
    ['43+dotted-eighth', 'm. 43, 3 sixteenths after the bar line'],
    ['43(2)', 'm. 43, second time'],
    ['43(3).4', 'm. 43, time 3, beat 4'],
    ['43(2)+3/16', 'm. 43, second time, 3 sixteenths after the bar line'],
    ['X1', 'm. X1'],
    ['12a', 'm. 12a'],
    ['end', 'the end'],
    ['letter C', 'letter C'],
  ])('%s: %s', (place, words) => {
    expect(placeWords(place)).toBe(words)
  })

  it('from one to another', () => {
    expect(stretchWords({ from: '43', to: '44.2' })).toBe('m. 43 to m. 44, beat 2')
    expect(stretchWords({ from: '43.3', to: 'end' })).toBe('m. 43, beat 3 to the end')
  })
})

it('a measure is known by its number, the first as well as the last', () => {
  const numbers = ['41', '42', '43']
  expect(numbers.map(n => parseMeasure(n, numbers))).toEqual([0, 1, 2].map(value => ({ ok: true, value })))
  for (const none of ['40', '44', '', 'x']) expect(parseMeasure(none, numbers).ok).toBe(false)
})

it('what is accepted names the measures that there are, one or from the first to the last', () => {
  const one: Numbered = { form: music('4/4', 1, '96'), numbers: ['12a'] }
  expect(read('99', one)).toContain('measure 12a, like 12a, 12a.2 (its second beat)')
  expect(read('99', run)).toContain('a measure from 40 to 44, like 44, 44.2 (its second beat)')
})

it('on a bar line the beat is named, where a place alone would be the whole measure', () => {
  expect([frac(1, 4), frac(1, 2), frac(5, 4), frac(11, 8)].map(at => beatPlaceAt(at, run))).toEqual([
    '41.1',
    '41.2',
    '42.1',
    '42+1/8',
  ])
  // A pick-up begins inside its measure: its beat has a number anyway.
  expect(beatPlaceAt(zero, run)).toBe('40.4')
})

describe('measures of music with a repeat', () => {
  const numbers = ['1', '2', '3', '2', '3', '4']

  it('by themselves keep their own names, those of the second time with it', () => {
    expect(numbersBetween(numbers, 0, 3)).toEqual(['1', '2', '3'])
    expect(numbersBetween(numbers, 3, 6)).toEqual(['2(2)', '3(2)', '4'])
    expect(numbersBetween(numbers, 2, 5)).toEqual(['3', '2(2)', '3'])
    expect(numbersBetween(['7', '8', '9'], 1, 3)).toEqual(['8', '9'])
  })

  it('say which time it is', () => {
    const words = (times: number) => measureWords(Array(times).fill('43'), times - 1)
    expect([1, 2, 3, 4, 11, 12, 13, 14, 21, 22, 23, 24, 111].map(words)).toEqual([
      '43',
      ...['2nd', '3rd', '4th', '11th', '12th', '13th', '14th', '21st', '22nd', '23rd', '24th', '111th'].map(
        time => `43, ${time} time`,
      ),
    ])
    expect(measureWords(['1', '2'], 1)).toBe('2')
  })

  it('next to each other are one range', () => {
    expect(measureRanges([0], numbers)).toBe('1')
    expect(measureRanges([0, 1, 2], numbers)).toBe('1-3')
    expect(measureRanges([0, 2, 3, 5], numbers)).toBe('1, 3-2(2), 4')
    expect(measureRanges([], numbers)).toBe('')
  })
})
