import { describe, expect, it } from 'vitest'
import { allKeys, keyText, MODES, parseKey, signature, spokenKey } from '../../src/music/keys.ts'
import {
  hertz,
  noteNumber,
  type Pitch,
  parsePitch,
  parseTransposition,
  pitchName,
  sounding,
  spokenNote,
} from '../../src/music/pitch.ts'
import type { Result } from '../../src/music/result.ts'

const sure = <T>(r: Result<T>): T => {
  if (!r.ok) throw new Error(JSON.stringify(r.problem))
  return r.value
}
const pitch = (s: string): Pitch => sure(parsePitch(s))

describe('a pitch', () => {
  it.each(['C4', 'Bb3', 'F##5', 'Ebb0', 'B9'])('%s is written as it was read', s => {
    expect(pitchName(pitch(s))).toBe(s)
  })
  it.each(['H4', 'c4', 'A', 'A10', 'B#b3', ''])('"%s" is none', s => {
    expect(parsePitch(s).ok).toBe(false)
  })
  it('is tuned to the A that was set', () => {
    expect(hertz(pitch('A4'))).toBe(440)
    expect(hertz(pitch('A3'), 442)).toBe(221)
    expect(noteNumber(pitch('B#3'))).toBe(noteNumber(pitch('C4')))
  })
  it('is spoken as players say it', () => {
    expect(spokenNote('Bb3')).toBe('B flat 3')
    expect(spokenNote('F#')).toBe('F sharp')
    expect(spokenNote('D major')).toBe('D major')
  })
})

describe('a transposing instrument', () => {
  it.each([
    ['Bb', 'C4', 'Bb3'],
    ['Bb', 'B4', 'A4'],
    ['F', 'C4', 'F3'],
    ['Eb', 'C4', 'Eb3'],
    ['Eb4', 'C4', 'Eb4'],
    ['A', 'F#4', 'D#4'],
    ['C', 'F#4', 'F#4'],
    ['Bb2', 'C5', 'Bb3'],
  ])('in %s sounds a written %s as %s', (c, written, sounds) => {
    expect(pitchName(sounding(pitch(written), sure(parseTransposition(c))))).toBe(sounds)
  })
})

describe('keys', () => {
  it('of each mode are twelve, all with another tonic sound, and read back', () => {
    for (const mode of MODES) {
      const keys = allKeys(mode)
      expect(new Set(keys.map(k => noteNumber(k.tonic) % 12)).size).toBe(12)
      for (const k of keys) expect(sure(parseKey(keyText(k)))).toEqual(k)
    }
  })
  it('with more than seven accidentals are refused', () => {
    expect(signature(sure(parseKey('Cb major')))).toBe(-7)
    expect(signature(sure(parseKey('A# melodic minor')))).toBe(7)
    for (const s of ['G# major', 'Fb major', 'B minor', 'major', '']) expect(parseKey(s).ok, s).toBe(false)
    expect(spokenKey(sure(parseKey('Eb harmonic minor')))).toBe('E flat harmonic minor')
  })
})
