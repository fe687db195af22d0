import { describe, expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
import { hardness } from '../../src/score/hardness.ts'
import { playingOf } from '../../src/score/playing.ts'
import { head, note, partOf } from './scores.ts'

const named = (name: string, ...measures: readonly string[]) => {
  const [first, ...others] = measures
  return { ...partOf([head() + first, ...others]), name }
}
const measure = (name: string, text: string, quarters = 60) =>
  hardness(named(name, text), tempo(quarters))[0] as ReturnType<typeof hardness>[number]
const high = (name: string, pitch: string): number =>
  // the note stands between others that are as high, so that it is not above the usual range of the part
  measure(name, note(4, '', pitch).repeat(4)).register
const twoStaves = (text: string): string =>
  `${text}<backup><duration>16</duration></backup><note><rest/><duration>16</duration><staff>2</staff></note>`

// The fourth finger on the highest string (common practice, no source); the double bass is written an octave higher.
describe('above the first position is harder on a string instrument', () => {
  test.each([
    ['Violin I', 'B5', 'C6'],
    ['Violine 2', 'B5', 'C6'],
    ['Fiddle', 'B5', 'C6'],
    ['Viola', 'E5', 'F5'],
    ['Bratschen', 'E5', 'F5'],
    ['Violoncello', 'D4', 'Eb4'],
    ['Celli', 'D4', 'Eb4'],
    ['Contrabass', 'B3', 'C4'],
    ['Double Bass', 'B3', 'C4'],
    ['Kontrabass', 'B3', 'C4'],
  ])('%s: %s is not, %s is', (name, inside, above) => {
    expect(high(name, inside)).toBe(0)
    expect(high(name, above)).toBeCloseTo(1 / 8, 9)
  })

  test.each(['Flute', 'Soprano', 'Horn in F'])('%s has none', name => {
    expect(high(name, 'C7')).toBe(0)
  })
})

// How much is our own choice, no source; tests/outside/hard-places.ts holds the whole against a reading by hand.
describe('what is quick and what is a leap', () => {
  const leap = (name: string, pitch: string): number => measure(name, note(8) + note(8, '', pitch)).shape

  test.each([
    ['Soprano', 7, 'E5', 'F5'],
    ['Mezzo', 7, 'E5', 'F5'],
    ['Baritone', 7, 'E5', 'F5'],
    ['Bass', 7, 'E5', 'F5'],
    ['Chant', 7, 'E5', 'F5'],
    ['Gesang', 7, 'E5', 'F5'],
    ['Violin', 9, 'F#5', 'G5'],
    ['Viola', 8.5, 'F#5', 'G5'],
    ['Violoncello', 8, 'F#5', 'G5'],
    ['Kontrabass', 7, 'E5', 'F5'],
    ['Flute', 9, 'G5', 'G#5'],
    ['Bass Clarinet', 9, 'G5', 'G#5'],
    ['Bass Trombone', 9, 'G5', 'G#5'],
  ])('%s: %d notes a second are hard, from C5 to %s is none and to %s one', (name, notes, near, far) => {
    // sixteenths at 15 x n quarters a minute are n notes a second (arithmetic)
    const run = Array.from({ length: 16 }, (_, i) => note(1, '', i % 2 ? 'D5' : 'C5')).join('')
    expect(measure(name, run, 15 * notes).speed).toBeCloseTo(1, 9)
    expect(leap(name, near)).toBe(0)
    expect(leap(name, far)).toBeGreaterThan(0)
  })

  test('what is altered weighs more for a singer, less for the fingers on a keyboard', () => {
    const altered = note(8, '', 'F#5') + note(8)
    const of = (name: string, text = altered) => measure(name, text).accidentals * 3
    expect(of('Flute')).toBeCloseTo(1, 9)
    expect(of('Violin')).toBeCloseTo(1, 9)
    expect(of('Tenor')).toBeCloseTo(1.6, 9)
    expect(of('Piano', twoStaves(altered))).toBeCloseTo(0.7, 9)
  })

  test('one hand takes an octave and a second at once, and chords weigh more', () => {
    const hand = (pitch: string) => measure('Piano', twoStaves(note(8) + note(8, '', pitch)))
    expect(hand('D6').shape).toBe(0)
    expect(hand('D#6').shape).toBeGreaterThan(0)
    const chord = (note(4) + note(4, '<chord/>', 'E5')).repeat(4)
    expect(measure('Piano', twoStaves(chord)).chords / measure('Harp', chord).chords).toBeCloseTo(1.2, 9)
  })

  test('out of the usual range counts: twice as much above as below, more for a singer, less for a keyboard', () => {
    const usual = note(2).repeat(8)
    const out = (name: string, pitch: string, of = (s: string) => s): number =>
      hardness(
        named(name, ...Array.from({ length: 4 }, () => of(usual)), of(note(16, '', pitch))),
        tempo(60),
      )[4]?.register ?? 0
    // one note of a measure counts a quarter; a fifth above is 7/5, a fifth below 5/8 and half of it
    expect(out('Flute', 'G5')).toBeCloseTo(7 / 5 / 4, 9)
    expect(out('Flute', 'G4')).toBeCloseTo(((5 / 8) * 0.5) / 4, 9)
    expect(out('Soprano', 'G5')).toBeCloseTo((1.2 * 7) / 5 / 4, 9)
    expect(out('Soprano', 'G4')).toBeCloseTo((1.2 * 0.4 * 5) / 8 / 4, 9)
    expect(out('Piano', 'G5', twoStaves)).toBeCloseTo((0.5 * 7) / 5 / 4, 9)
    expect(out('Piano', 'G4', twoStaves)).toBeCloseTo((0.5 * 0.5 * 5) / 8 / 4, 9)
  })

  test('two staves are two hands, whatever the part is called', () => {
    expect(playingOf(named('Violin', twoStaves(note(16)))).hands).toEqual([1, 2])
    expect(playingOf(named('Piano', note(16))).hands).toBeNull()
  })
})
