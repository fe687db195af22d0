import { noteName, noteNumber, type Pitch, parsePitch, spelled, spokenNote } from './pitch.ts'
import { ok, problem, type Result } from './result.ts'

export const MODES = ['major', 'harmonic minor', 'melodic minor'] as const
export type Mode = (typeof MODES)[number]

/** A key with its scale; the tonic stands in the octave of middle C. */
export type Key = { readonly tonic: Pitch; readonly mode: Mode }

/** Semitones above the tonic, upward. */
const UP: Readonly<Record<Mode, readonly number[]>> = {
  major: [0, 2, 4, 5, 7, 9, 11],
  'harmonic minor': [0, 2, 3, 5, 7, 8, 11],
  'melodic minor': [0, 2, 3, 5, 7, 9, 11],
}
/** The melodic minor comes down as the signature has it. */
const NATURAL_MINOR = [0, 2, 3, 5, 7, 8, 10]

const degreeOf = (k: Key, semitones: readonly number[], i: number): Pitch =>
  spelled(
    k.tonic.step + i,
    noteNumber(k.tonic) + 12 * Math.floor(i / 7) + (semitones[((i % 7) + 7) % 7] as number),
  )

/** A note of the scale: 0 is the tonic, 7 the one an octave up. */
const degree = (k: Key, i: number): Pitch => degreeOf(k, UP[k.mode], i)

const count = (n: number): number[] => [...Array(n).keys()]

/** One octave up, tonic to tonic. */
export const scaleUp = (k: Key): readonly Pitch[] => count(8).map(i => degree(k, i))

/** One octave down, tonic to tonic. */
export const scaleDown = (k: Key): readonly Pitch[] =>
  count(8).map(i => degreeOf(k, k.mode === 'melodic minor' ? NATURAL_MINOR : UP[k.mode], 7 - i))

/** Broken intervals on each degree of one octave: thirds are 2 degrees wide, sixths 5. */
export const broken = (k: Key, width: number): readonly (readonly [Pitch, Pitch])[] =>
  count(8).map(i => [degree(k, i), degree(k, i + width)])

/** Tonic, third, fifth, octave. */
export const arpeggio = (k: Key): readonly Pitch[] => [0, 2, 4, 7].map(i => degree(k, i))

/** Sharps (above 0) or flats (below 0) of the signature. */
export const signature = (k: Key): number =>
  count(7).reduce((sum, i) => sum + degreeOf(k, k.mode === 'major' ? UP.major : NATURAL_MINOR, i).alter, 0)

/** "Bb major" */
export const keyText = (k: Key): string => `${noteName(k.tonic)} ${k.mode}`
export const spokenKey = (k: Key): string => spokenNote(keyText(k))

/** "Bb major", "F# harmonic minor": with a signature of seven sharps or flats at most. */
export const parseKey = (s: string, field = 'key'): Result<Key> => {
  const [note = '', ...rest] = s.trim().split(/\s+/)
  const mode = MODES.find(m => m === rest.join(' '))
  const tonic = parsePitch(`${note}4`)
  const key = mode && tonic.ok ? { tonic: tonic.value, mode } : null
  return key && Math.abs(signature(key)) <= 7
    ? ok(key)
    : problem(
        field,
        s,
        `a key, like Bb major, D harmonic minor or F# melodic minor, with up to seven accidentals`,
      )
}

const TONICS: Readonly<Record<'major' | 'minor', string>> = {
  major: 'C G D A E B F# Db Ab Eb Bb F',
  minor: 'A E B F# C# G# Eb Bb F C G D',
}

/** The twelve keys of a mode along the circle of fifths, those with six sharps or flats spelled in one way. */
export const allKeys = (mode: Mode): readonly Key[] =>
  TONICS[mode === 'major' ? 'major' : 'minor'].split(' ').flatMap(note => {
    const read = parseKey(`${note} ${mode}`)
    return read.ok ? [read.value] : []
  })
