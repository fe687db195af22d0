import { ok, problem, type Result } from './result.ts'

/**
 * A pitch as it is spelled. `step` counts the notes of the staff from C0 (middle C, C4, is 28); `alter` counts
 * semitones up (sharp 1, flat -1). Octaves are numbered from C, as in scientific pitch notation.
 */
export type Pitch = { readonly step: number; readonly alter: number }

const LETTERS = 'CDEFGAB'
const SEMITONES = [0, 2, 4, 5, 7, 9, 11] as const
/** Middle C. */
const MIDDLE_C: Pitch = { step: 28, alter: 0 }

const natural = (step: number): number =>
  12 * (Math.floor(step / 7) + 1) + (SEMITONES[((step % 7) + 7) % 7] as number)

/** Semitones from C-1: the note number of MIDI, in which A4 is 69. */
export const noteNumber = (p: Pitch): number => natural(p.step) + p.alter

/** The pitch on a place of the staff that sounds as a note number says. */
export const spelled = (step: number, number: number): Pitch => ({ step, alter: number - natural(step) })

/** Hertz in equal temperament; `a` = the A above middle C (440: ISO 16:1975). */
export const hertz = (p: Pitch, a = 440): number => a * 2 ** ((noteNumber(p) - 69) / 12)

/** "Bb", "F#", "F##": without its octave. */
export const noteName = (p: Pitch): string =>
  `${LETTERS[((p.step % 7) + 7) % 7]}${(p.alter < 0 ? 'b' : '#').repeat(Math.abs(p.alter))}`

/** "Bb3", as `parsePitch` reads it. */
export const pitchName = (p: Pitch): string => `${noteName(p)}${Math.floor(p.step / 7)}`

const ACCIDENTALS: Readonly<Record<string, string>> = {
  bb: ' double flat',
  b: ' flat',
  '#': ' sharp',
  '##': ' double sharp',
}

/** "B flat" for Bb, "B flat 3" for Bb3, "B flat major" for Bb major. */
export const spokenNote = (s: string): string =>
  s.replace(
    /^([A-G])(bb?|##?)?(\d)?/,
    (_, letter, mark, octave) =>
      `${letter}${mark ? ACCIDENTALS[mark] : ''}${octave === undefined ? '' : ` ${octave}`}`,
  )

/** "Bb3", "F#4", "C5": letter, accidental, octave from 0 to 9. */
export const parsePitch = (s: string, field = 'pitch'): Result<Pitch> => {
  const m = /^([A-G])(bb?|##?)?(\d)$/.exec(s.trim())
  if (!m) return problem(field, s, 'a note with its octave, like A4, Bb3 or F#5 (C4 is middle C)')
  const [, letter = 'C', mark = '', octave] = m
  return ok({
    step: 7 * Number(octave) + LETTERS.indexOf(letter),
    alter: mark.startsWith('b') ? -mark.length : mark.length,
  })
}

/**
 * What an instrument sounds when middle C is written, as "Bb" (the one below: clarinet, trumpet), "F" (horn), "Eb"
 * (alto saxophone); another octave is said, as Eb4 (small clarinet) or Bb2 (tenor saxophone). "C" is not transposed.
 */
export const parseTransposition = (s: string, field = 'transposition'): Result<Pitch> => {
  const text = s.trim()
  const octave = /\d$/.test(text) ? '' : text === 'C' ? '4' : '3'
  const read = parsePitch(`${text}${octave}`, field)
  return read.ok
    ? read
    : problem(field, s, 'what sounds when C is written: C, Bb, A, F, Eb, or with its octave: Eb4, Bb2')
}

/** What sounds when a pitch is written for an instrument on which middle C sounds as `c`. */
export const sounding = (written: Pitch, c: Pitch): Pitch =>
  spelled(written.step + c.step - MIDDLE_C.step, noteNumber(written) + noteNumber(c) - noteNumber(MIDDLE_C))
