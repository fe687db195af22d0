import { describe, expect, test } from 'vitest'
import type { MeasureHardness } from '../../src/score/hardness.ts'
import { semitones } from '../../src/score/playing.ts'
import { reasonOf } from '../../src/score/reasons.ts'
import type { Pitch } from '../../src/score/score.ts'

const NOTHING: MeasureHardness = {
  measure: 0,
  notes: 4,
  perSecond: null,
  speed: 0,
  shape: 0,
  widest: 0,
  accidentals: 0,
  foreign: 0,
  register: 0,
  highest: null,
  rhythm: 0,
  syncopations: 0,
  chords: 0,
}
const why = (...run: readonly Partial<MeasureHardness>[]): string =>
  reasonOf(run.map(facts => ({ ...NOTHING, ...facts })))

describe('what is hard in a passage, in a musician’s words', () => {
  test('is the three hardest things, the hardest first, if they are worth a word', () => {
    const all = {
      speed: 0.5,
      perSecond: 8,
      shape: 0.7,
      accidentals: 0.4,
      foreign: 3,
      chords: 0.36,
      rhythm: 0.34,
    }
    expect(why(all)).toBe('back and forth, 8.0 notes a second, 3 accidentals')
    expect(why({ ...all, speed: 0.34, shape: 0.34 })).toBe('3 accidentals, full chords')
    expect(why({ speed: 0.35, perSecond: 4, shape: 0.36 })).toBe('back and forth, 4.0 notes a second')
    // the first one is always said
    expect(why({ rhythm: 0.1 })).toBe('changing rhythm')
  })

  test('is looked for in all of its measures', () => {
    expect(
      why(
        { speed: 0.9, perSecond: 6 },
        { speed: 0.4, perSecond: 7, accidentals: 0.5, foreign: 2 },
        { foreign: 1 },
      ),
    ).toBe('7.0 notes a second, 3 accidentals')
    expect(why({ shape: 0.5, widest: 5 }, { shape: 0.4, widest: 12 }, {})).toBe('octave leaps')
  })

  test('notes a second come with a decimal below ten', () => {
    expect(why({ speed: 1, perSecond: 9.94 })).toBe('9.9 notes a second')
    expect(why({ speed: 1, perSecond: 9.96 })).toBe('10 notes a second')
    expect(why({ speed: 1, perSecond: 12.4 })).toBe('12 notes a second')
  })

  // An octave has twelve semitones, a seventh ten or eleven, a sixth eight or nine.
  test.each([
    [7, 'back and forth'],
    [8, 'leaps of a sixth'],
    [9, 'leaps of a sixth'],
    [10, 'leaps of a seventh'],
    [11, 'leaps of a seventh'],
    [12, 'octave leaps'],
    [13, 'leaps wider than an octave'],
    [23, 'leaps wider than an octave'],
    [24, 'leaps over two octaves'],
  ])('a leap of %d semitones: %s', (widest, said) => {
    expect(why({ shape: 1, widest })).toBe(said)
  })

  test('one accidental, two accidentals; none where there is none', () => {
    expect(why({ accidentals: 1, foreign: 1 })).toBe('1 accidental')
    expect(why({ accidentals: 1, foreign: 2 })).toBe('2 accidentals')
    expect(why({ accidentals: 1, chords: 0.5 })).toBe('full chords')
  })

  test('one syncopation is a change of rhythm, two are syncopation', () => {
    expect(why({ rhythm: 1, syncopations: 1 })).toBe('changing rhythm')
    expect(why({ rhythm: 1, syncopations: 1 }, { syncopations: 1 })).toBe('syncopation')
  })

  // Middle C is C4 (MusicXML 4.0, element octave); the names of the black keys are the usual ones of flats and sharps.
  test.each<[Pitch['step'], number, number, string]>([
    ['C', 0, 4, 'C4'],
    ['B', 1, 5, 'C6'],
    ['C', 1, 5, 'C♯5'],
    ['D', 0, 5, 'D5'],
    ['D', 1, 5, 'E♭5'],
    ['E', 0, 5, 'E5'],
    ['F', 0, 5, 'F5'],
    ['G', -1, 5, 'F♯5'],
    ['G', 0, 5, 'G5'],
    ['A', -1, 5, 'A♭5'],
    ['A', 0, 5, 'A5'],
    ['A', 1, 5, 'B♭5'],
    ['B', 0, 5, 'B5'],
    ['C', -1, 6, 'B5'],
    ['G', 0.5, 5, 'A♭5'],
  ])('a high %s %d in octave %d is said as "up to %s"', (step, alter, octave, name) => {
    expect(why({ register: 1, highest: semitones({ step, alter, octave }) })).toBe(`up to ${name}`)
  })

  test('what is low has no name to say', () => {
    expect(why({ register: 1, chords: 0.5 })).toBe('full chords')
  })
})
