import { describe, expect, test } from 'vitest'
import { tempoMap } from '../../src/click/tempo-map.ts'
import { div, type Frac, frac, mul, toNumber } from '../../src/music/fraction.ts'
import { pulses } from '../../src/music/meter.ts'
import { parseNoteValue } from '../../src/music/note-value.ts'
import { compareTempo, inUnit, quarters, sameTempo, scaleTempo, typed } from '../../src/music/tempo.ts'
import { framesOf, meter, music, played, RATE, tempoOf } from '../click/support.ts'

const value = (name: string): Frac => {
  const r = parseNoteValue(name)
  if (!r.ok) throw new Error(name)
  return r.value
}
const QUARTER = value('quarter')
const triplet = (name: string): Frac => mul(value(name), frac(2, 3))

/** Milliseconds of a note value at so many quarters a minute. */
const ms = (v: Frac, bpm: string): number => tempoMap(music('4/4', 4, bpm), tempoOf(bpm), 1000).frames(v)

// Each test names its source; where only an excerpt of a page was seen, the value stands as common practice.
describe('worked examples', () => {
  // Source: University of the Arts Helsinki, Sibelius Academy, music theory pages (siba.fi), Tempo.
  test('M.M. 90: a beat lasts 60/90 = 2/3 of a second', () => {
    expect(framesOf(played(music('4/4', 1, '90')))).toEqual([0, 32_000, 64_000, 96_000])
  })

  // Common practice, no source: 60,000 ms / 120.
  test('at 120 a quarter lasts 500 ms, an eighth 250, a sixteenth 125', () => {
    expect(['quarter', 'eighth', '16th'].map(v => ms(value(v), '120'))).toEqual([500, 250, 125])
  })

  // Common practice, no source: note fraction x 240,000 ms / BPM.
  test('an eighth at 100 lasts 300 ms', () => {
    expect(ms(value('eighth'), '100')).toBe(300)
  })

  // Common practice, no source: a dot adds a half, three triplets take the time of two.
  test('multiples of the beat: dotted and triplet values', () => {
    const beats = (v: Frac) => toNumber(div(v, QUARTER))
    expect(beats(value('dotted-half'))).toBe(3)
    expect(beats(value('dotted-quarter'))).toBe(1.5)
    expect(beats(value('dotted-eighth'))).toBe(0.75)
    expect(beats(value('dotted-16th'))).toBe(0.375)
    expect(beats(triplet('quarter'))).toBeCloseTo(0.667, 3)
    expect(beats(triplet('eighth'))).toBeCloseTo(0.333, 3)
    expect(ms(value('eighth'), '142')).toBeCloseTo(211.268, 3)
  })

  // Common practice, no source: note lengths at 120, rounded to milliseconds.
  test('the table at 120', () => {
    const at120 = (v: Frac) => Math.round(ms(v, '120'))
    expect(['whole', 'half', 'quarter', 'eighth', '16th'].map(v => at120(value(v)))).toEqual([
      2000, 1000, 500, 250, 125,
    ])
    expect(['eighth', 'quarter', 'half'].map(v => at120(triplet(v)))).toEqual([167, 333, 667])
  })

  // Source: R. DeLone et al., Aspects of Twentieth-Century Music (1975), chapter 3: x/84 = 3/2.
  test('quarter = 126 equals dotted quarter = 84', () => {
    expect(sameTempo(tempoOf('126'), tempoOf('dotted-quarter=84'))).toBe(true)
    expect(typed(scaleTempo(tempoOf('84'), frac(3, 2)))).toBe('126')
    expect(typed(inUnit(tempoOf('126'), value('dotted-quarter')))).toBe('dotted-quarter=84')
  })

  // Source: LilyPond 2.24 and abcjs 6.7 write 500000 us a quarter for it; so does a score in the OpenScore Lieder Corpus (CC0):
  // dotted quarter = 80 with a sound tempo of 120.
  test('dotted quarter = 80 is quarter = 120', () => {
    expect(toNumber(quarters(tempoOf('dotted-quarter=80')))).toBe(120)
    expect(compareTempo(tempoOf('dotted-quarter=80'), tempoOf('120'))).toBe(0)
    expect(framesOf(played(music('6/8', 2, 'dotted-quarter=80')))).toEqual([0, 36_000, 72_000, 108_000])
  })

  // Source: music21 10.5, documentation of convertTempoByReferent(60, 1, 2).
  test('60 quarters a minute are 30 halves a minute', () => {
    expect(typed(inUnit(tempoOf('60'), value('half')))).toBe('half=30')
  })
})

// Source: Open Music Theory, Meter (viva.pressbooks.pub/openmusictheory): in a compound meter the beats are a third of the upper number.
describe('compound meters', () => {
  test.each([
    ['6/8', 2],
    ['9/8', 3],
    ['12/8', 4],
  ])('%s has %d beats of three divisions', (m, beats) => {
    expect(pulses(meter(m), value('dotted-quarter'))).toHaveLength(beats)
    const p = played(music(m, 1, 'dotted-quarter=60'), { subdivide: 3 })
    expect(framesOf(p)).toEqual(Array.from({ length: 3 * beats }, (_, i) => (i * RATE) / 3))
  })
})

// Source: T. Rush, Music Theory for Musicians and Normal People, Complex Meter: eighth notes remain constant.
describe('complex meters', () => {
  test.each([
    ['5/8', [0, 2], [0, 1, 2, 3, 4]],
    ['7/8', [0, 2, 4], [0, 1, 2, 3, 4, 5, 6]],
  ])('%s has unequal beats of equal eighths', (m, starts, all) => {
    const p = played(music(m, 1, 'quarter=60'), { subdivide: 2 })
    const eighth = RATE / 2
    expect(framesOf(p, 'downbeat', 'beat', 'group')).toEqual(starts.map(s => s * eighth))
    expect(framesOf(p)).toEqual(all.map(e => e * eighth))
  })
})
