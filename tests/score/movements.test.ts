import { describe, expect, test } from 'vitest'
import {
  attributes,
  barline,
  head,
  type MeasureText,
  mark,
  note,
  scoreOf,
  scoreText,
  time,
  words,
} from './scores.ts'

const bar = note(16)
const final = barline('right', '<bar-style>light-heavy</bar-style>')
const three = attributes(time('3', 4))
const flats = attributes('<key><fifths>-3</fifths></key>')
/** The movements of a score: name, first and last measure from 1. */
const movements = (...parts: readonly (readonly MeasureText[])[]) =>
  scoreOf(scoreText(...parts)).movements.map(m => `${m.name} ${m.from + 1}-${m.to + 1}`.trim())
/** Four measures before and four after what is said at the fifth; the fourth ends so. */
const at = (said: string, end = final, first = head()) =>
  movements([first + bar, bar, bar, bar + end, said + bar, bar, bar, bar])
const TWO = (name: string, first = 'movement 1') => [`${first} 1-4`, `${name} 5-8`]
const ONE = ['1-8']

// Signs of a new movement: common practice, no source.
describe('a movement begins', () => {
  test('after a final bar line with a new heading or tempo and a new meter or key', () => {
    expect(at(words('Andante') + three)).toEqual(TWO('movement 2, Andante'))
    expect(at(words('Andante') + flats)).toEqual(TWO('movement 2, Andante'))
    expect(at(mark('quarter', '60') + three)).toEqual(TWO('movement 2'))
    // each alone is not enough
    expect(at(words('Andante') + three, '')).toEqual(ONE)
    expect(at(words('Andante'))).toEqual(ONE)
    expect(at(three + flats)).toEqual(ONE)
    expect(at(mark('quarter', '60'))).toEqual(ONE)
    expect(at(words('Andante') + three, barline('right', '<bar-style>light-light</bar-style>'))).toEqual(ONE)
  })

  test('after a final bar line with a title, whatever its meter', () => {
    for (const title of [
      'Scherzo',
      'Menuetto',
      'Minuet',
      'Finale',
      'Rondo',
      'Intermezzo',
      'Romance',
      'Polonaise',
      'Gigue',
      'Prelude',
      'Aria',
    ])
      expect(at(words(title)), title).toEqual(TWO(`movement 2, ${title}`))
    expect(at(words('Scherzo'), '')).toEqual(ONE)
  })

  test.each([
    'dolce',
    'pizz.',
    'Pizz.',
    'Solo',
    'rit.',
    'A tempo',
    'Trio',
    'Coda',
    'Tempo I',
    'Var. 2',
    'Minore',
    'Maggiore',
    'D.C. al Fine',
  ])('not with "%s", which says how to go on', said => {
    expect(at(words(said) + three)).toEqual(ONE)
  })

  test('where a heading counts on, with a new tempo, meter or key, or after the end of another', () => {
    const counted = (said: string, end = '') => at(said, end, words('I.') + head())
    const both = (name: string) => TWO(name, 'I.')
    expect(counted(words('II.'), final)).toEqual(both('II.'))
    expect(counted(words('II.') + three)).toEqual(both('II.'))
    expect(counted(words('II.') + flats)).toEqual(both('II.'))
    expect(counted(words('II.') + mark('quarter', '60'))).toEqual(both('II.'))
    expect(counted(words('II.'), barline('right', '<repeat direction="backward"/>'))).toEqual(both('II.'))
    expect(counted(words('II.'), words('D.C.'))).toEqual(both('II.'))
    expect(counted(words('II.'))).toEqual(ONE)
    // it does not count on
    expect(counted(words('III.') + three)).toEqual(ONE)
    expect(counted(words('I.') + three)).toEqual(ONE)
    // and nobody began to count
    expect(at(words('II.') + three, '')).toEqual(ONE)
  })

  test('a count goes on over a movement without a number', () => {
    const some = [
      words('I.') + head() + bar,
      bar + final,
      words('Scherzo') + bar,
      bar,
      words('III.') + three + bar,
      bar,
    ]
    expect(movements(some)).toEqual(['I. 1-2', 'movement 2, Scherzo 3-4', 'III. 5-6'])
  })

  test.each([
    ['I.', 'II.'],
    ['I', 'II'],
    ['I. Allegro', 'II. Largo'],
    ['I Allegro', 'II Largo'],
    ['I: Allegro', 'II: Largo'],
    ['I – Allegro', 'II – Largo'],
    ['No. 1', 'No. 2'],
    ['Nr. 1', 'Nr. 2'],
    ['n° 1', 'n° 2'],
    ['№ 1', '№ 2'],
    ['1. Satz', '2. Satz'],
    ['1. mov.', '2. mov.'],
    ['Movement 1', 'Movement 2'],
    ['Mvt. 1', 'Mvt. 2'],
    ['IX.', 'X.'],
    ['XI.', 'XII.'],
  ])('"%s" and "%s" count', (first, second) => {
    expect(at(words(second) + three, '', words(first) + head())).toEqual(TWO(second, first))
  })

  test.each(['X-ray', 'Ivory', 'II3', 'no 7th', 'In F', 'Vivace', 'XIII.', '2. time'])(
    '"%s" is no number',
    said => {
      expect(at(words('II.') + three, '', words(said) + head())).toEqual(ONE)
    },
  )

  test('where the numbers of measures begin again', () => {
    const from = (n: number, count: number) =>
      Array.from({ length: count }, (_, i) => ({ attrs: `number="${n + i}"`, inside: bar }))
    const all = (...runs: readonly MeasureText[][]) =>
      movements([{ attrs: 'number="1"', inside: head() + bar }, ...runs.flat()])
    expect(all(from(2, 3), from(1, 4))).toEqual(TWO('movement 2'))
    expect(all(from(2, 3), from(0, 4))).toEqual(TWO('movement 2'))
    // a number that only comes twice, or goes back a little, begins nothing
    expect(all(from(2, 3), from(2, 4))).toEqual(ONE)
    expect(all(from(2, 1), from(1, 6))).toEqual(ONE)
    // what has no number of its own, halves of measures, does not count
    const half = { attrs: 'number="X1" implicit="yes"', inside: bar }
    expect(all(from(2, 2), [half], from(1, 4))).toEqual(TWO('movement 2'))
  })

  test('no movement is a single measure', () => {
    const one = [head() + bar + final, words('Scherzo') + three + note(12), note(12)]
    expect(movements(one)).toEqual(['1-3'])
    expect(movements([head() + bar, bar + final, words('Scherzo') + three + note(12)])).toEqual([
      'movement 1 1-2',
      'movement 2, Scherzo 3-3',
    ])
  })

  test('whichever part says so, and only what stands at its beginning', () => {
    const silent = [head() + bar, bar, bar, bar, bar, bar, bar, bar]
    const top = [head() + bar, bar, bar, bar + final, words('Andante') + three + bar, bar, bar, bar]
    expect(movements(silent, top)).toEqual(TWO('movement 2, Andante'))
    expect(at(note(4) + words('Andante') + three)).toEqual(ONE)
    expect(at(note(4) + words('Scherzo'))).toEqual(ONE)
    expect(at(note(4) + mark('quarter', '60') + three)).toEqual(ONE)
  })
})

describe('a trio', () => {
  const fine = words('Fine', '<sound fine="yes"/>')
  const daCapo = words('D.C. al Fine', '<sound dacapo="yes"/>')
  const minuet = (end: string, trio: string, last: string) =>
    movements([
      words('Menuetto') + head() + bar,
      bar,
      bar,
      bar + end + final,
      trio + bar,
      bar,
      bar,
      bar + last + final,
      words('Finale') + bar,
      bar,
    ])

  test('belongs to the movement it leads back to', () => {
    expect(minuet(fine, words('Alternativo II') + three, daCapo)).toEqual([
      'movement 1, Menuetto 1-8',
      'movement 2, Finale 9-10',
    ])
    expect(minuet('', words('Trio') + words('Scherzo') + three, daCapo)).toEqual([
      'movement 1, Menuetto 1-8',
      'movement 2, Finale 9-10',
    ])
    expect(minuet(fine, words('Gavotte') + three, daCapo)).toEqual([
      'movement 1, Menuetto 1-8',
      'movement 2, Finale 9-10',
    ])
  })

  test('also where its fine stands before the end, or its measures are counted anew', () => {
    const sound = (attrs: string) => `<sound ${attrs}/>`
    const early = (first: string, trio: string, last: string) =>
      movements([
        words('Menuetto') + head() + bar,
        first + bar,
        bar,
        bar + final,
        words('Gavotte') + trio + bar,
        bar,
        bar,
        bar + last + final,
      ])
    const [fine, back] = [sound('fine="yes"'), sound('dacapo="yes"')]
    const two = ['movement 1, Menuetto 1-4', 'movement 2, Gavotte 5-8']
    expect(early(fine, '', back)).toEqual(['1-8'])
    expect(early('', '', back)).toEqual(two)
    expect(early(fine, '', '')).toEqual(two)
    expect(early(fine, fine, back)).toEqual(two)
    expect(early(fine + back, '', back)).toEqual(two)
    const anew = (first: string, said: string, last: string) =>
      movements([
        { attrs: 'number="1"', inside: head() + bar },
        { attrs: 'number="2"', inside: bar + first },
        { attrs: 'number="3"', inside: bar },
        { attrs: 'number="1"', inside: words(said) + bar },
        { attrs: 'number="2"', inside: bar },
        { attrs: 'number="3"', inside: bar + last },
        { attrs: 'number="1"', inside: words('Presto') + bar },
        { attrs: 'number="2"', inside: bar },
      ])
    const three_ = (name: string) => ['movement 1 1-3', `movement 2, ${name} 4-6`, 'movement 3, Presto 7-8']
    expect(anew('', 'Trio', back)).toEqual(['movement 1 1-6', 'movement 2, Presto 7-8'])
    expect(anew('', 'Andante', back)).toEqual(three_('Andante'))
    expect(anew('', 'Trio', '')).toEqual(three_('Trio'))
    expect(anew(back, 'Trio', back)).toEqual(three_('Trio'))
  })

  test('but not where nothing leads back, or it has an end of its own', () => {
    const three_ = ['movement 1, Menuetto 1-4', 'movement 2, Gavotte 5-8', 'movement 3, Finale 9-10']
    expect(minuet('', words('Gavotte') + three, '')).toEqual(three_)
    expect(minuet('', words('Gavotte') + three, daCapo)).toEqual(three_)
    expect(minuet('', `${words('Gavotte')}<sound fine="yes"/>${three}`, daCapo)).toEqual(three_)
    // the first already leads back
    expect(minuet(daCapo, words('Gavotte') + three, daCapo)).toEqual(three_)
  })
})

describe('a movement is called', () => {
  test('by what is printed, number and heading, cut to sixty characters', () => {
    const named = (said: string) => at(said + three, final, words('I.') + head())[1]
    expect(named(words('II.') + words('Largo'))).toBe('II. Largo 5-8')
    expect(named(words('II. Largo'))).toBe('II. Largo 5-8')
    expect(named(words('Largo') + words('II.'))).toBe('II. Largo 5-8')
    expect(named(words('II.') + words('dolce'))).toBe('II. 5-8')
    expect(named(words('II.') + words('Pizz.'))).toBe('II. 5-8')
    expect(named(words('II.') + words('A tempo'))).toBe('II. 5-8')
    expect(named(words(`II. ${'x'.repeat(70)}`))).toBe(`II. ${'x'.repeat(56)} 5-8`)
    expect(named(words(`II. ${'x'.repeat(55)} y`))).toBe(`II. ${'x'.repeat(55)} 5-8`)
  })

  test('nothing where it is the only one', () => {
    expect(movements([words('I. Largo') + head() + bar, bar])).toEqual(['1-2'])
  })
})
