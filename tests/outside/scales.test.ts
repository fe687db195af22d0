import { Interval, Key, Note, Scale } from 'tonal'
import { describe, expect, it } from 'vitest'
import {
  allKeys,
  arpeggio,
  broken,
  type Key as KeyOf,
  keyText,
  MODES,
  parseKey,
  scaleDown,
  scaleUp,
  signature,
} from '../../src/music/keys.ts'
import {
  hertz,
  noteName,
  parsePitch,
  parseTransposition,
  pitchName,
  sounding,
} from '../../src/music/pitch.ts'
import type { Result } from '../../src/music/result.ts'

const sure = <T>(r: Result<T>): T => {
  if (!r.ok) throw new Error(JSON.stringify(r.problem))
  return r.value
}

/** Every key that can be typed, not only the twelve that rotate. */
const TYPED = [...'CDEFGAB'].flatMap(l =>
  ['', '#', 'b'].flatMap(a => MODES.flatMap(m => parseKey(`${l}${a} ${m}`)).filter(r => r.ok)),
)
const keys: readonly KeyOf[] = TYPED.map(sure)
const tonic = (k: KeyOf): string => noteName(k.tonic)
const NAMES = {
  major: 'major',
  'harmonic minor': 'harmonic minor',
  'melodic minor': 'melodic minor',
} as const

// Source: npm tonal 6.5.1 (MIT), a general library of music theory: Scale, Key, Interval, Note. The A: ISO 16:1975.
describe('against the package tonal', () => {
  it('fifteen keys of each mode are known', () => {
    expect(keys).toHaveLength(45)
    for (const mode of MODES) expect(allKeys(mode)).toHaveLength(12)
  })

  it.each(keys.map(k => [keyText(k), k] as const))('%s is spelled the same, up and down', (_, k) => {
    const up = Scale.get(`${pitchName(k.tonic)} ${NAMES[k.mode]}`).notes
    expect(scaleUp(k).slice(0, 7).map(pitchName)).toEqual(up)
    const down =
      k.mode === 'melodic minor' ? [...Key.minorKey(tonic(k)).natural.scale] : up.map(n => Note.pitchClass(n))
    expect(scaleDown(k).slice(1).map(noteName)).toEqual([...down].reverse())
    expect(signature(k)).toBe(
      k.mode === 'major' ? Key.majorKey(tonic(k)).alteration : Key.minorKey(tonic(k)).alteration,
    )
  })

  it.each(keys.map(k => [keyText(k), k] as const))('thirds, sixths and arpeggio of %s', (_, k) => {
    for (const [width, number] of [
      [2, 3],
      [5, 6],
    ] as const)
      for (const [low, high] of broken(k, width)) {
        const interval = Interval.get(Interval.distance(`${Note.get(pitchName(low)).name}`, pitchName(high)))
        expect(interval.num).toBe(number)
        // Within these scales a third or a sixth is major, minor, diminished or augmented, and never more.
        expect(['M', 'm', 'd', 'A']).toContain(interval.q)
      }
    const chord = k.mode === 'major' ? ['1P', '3M', '5P', '8P'] : ['1P', '3m', '5P', '8P']
    expect(arpeggio(k).map(pitchName)).toEqual(chord.map(i => Note.transpose(pitchName(k.tonic), i)))
  })

  // From memory.
  it('broken thirds of F major as its staff has them', () => {
    const pairs = broken(sure(parseKey('F major')), 2).map(p => p.map(noteName).join('-'))
    expect(pairs.slice(0, 6)).toEqual(['F-A', 'G-Bb', 'A-C', 'Bb-D', 'C-E', 'D-F'])
  })

  it('frequencies at two pitches of the A, to a billionth', () => {
    for (const name of ['C4', 'A3', 'Bb3', 'E4', 'F2', 'G#6', 'Cb5', 'B#3'])
      for (const a of [440, 442]) {
        const theirs = (Note.freq(name) as number) * (a / 440)
        expect(Math.abs(hertz(sure(parsePitch(name)), a) / theirs - 1)).toBeLessThan(1e-9)
      }
  })

  it.each([
    ['Bb', '-2M'],
    ['A', '-3m'],
    ['F', '-5P'],
    ['Eb', '-6M'],
    ['Eb4', '3m'],
    ['Bb2', '-9M'],
    ['C', '1P'],
  ])('an instrument in %s sounds %s from what is written', (c, interval) => {
    for (const name of ['C4', 'F#5', 'Bb3', 'E4', 'Ab4', 'C#4', 'B4'])
      expect(pitchName(sounding(sure(parsePitch(name)), sure(parseTransposition(c))))).toBe(
        Note.transpose(name, interval),
      )
  })
})
