import { add, compare, equal, type Frac, max } from '../music/fraction.ts'
import type { Part, Pitch } from './score.ts'

/** What is easy and what is hard on an instrument. How much is our own choice, not a finding. */
export type Playing = {
  /** Staves that are hands of one player, null for a single line. */
  readonly hands: readonly number[] | null
  /** Semitones between neighboring notes that cost nothing. */
  readonly easy: number
  /** Notes a second that alone make a measure hard. */
  readonly quick: number
  readonly accidental: number
  /** Highest note of the first position as written, in semitones as `semitones` counts; null where that means nothing. */
  readonly firstPosition: number | null
  readonly register: number
  /** How much low notes weigh against high ones. */
  readonly low: number
  readonly chords: number
}

const LINE = { firstPosition: null, accidental: 1, register: 1, low: 0.5, chords: 1 } as const
const KINDS: readonly (readonly [RegExp, Omit<Playing, 'hands'>])[] = [
  // before the singers: their bass is one too
  [/contrab|double bass|kontrab/i, { ...LINE, easy: 4, quick: 7, firstPosition: 47 }],
  [
    /sopran|alto\b|mezzo|tenor|bari?ton|\bbass\b(?!.*(clar|drum|tromb|guitar))|voice|voix|chant|sing|canto|gesang|coro|chor|solo$/i,
    { ...LINE, easy: 4, quick: 7, accidental: 1.6, register: 1.2, low: 0.4 },
  ],
  [/violin|violine|violon\b|fiddle|geige/i, { ...LINE, easy: 6, quick: 9, firstPosition: 71 }],
  [/viola|bratsche/i, { ...LINE, easy: 6, quick: 8.5, firstPosition: 64 }],
  [/cello|celli/i, { ...LINE, easy: 6, quick: 8, firstPosition: 50 }],
]
const OTHERS: Omit<Playing, 'hands'> = { ...LINE, easy: 7, quick: 9 }
const KEYS: Omit<Playing, 'hands'> = {
  ...LINE,
  easy: 14,
  quick: 9,
  accidental: 0.7,
  register: 0.5,
  chords: 1.2,
}

/** By the name of the part; two staves are the hands of a keyboard or harp player. */
export const playingOf = (part: Pick<Part, 'name' | 'notes'>): Playing => {
  const staves = [...new Set(part.notes.map(n => n.staff))].sort((a, b) => a - b)
  if (staves.length > 1) return { ...KEYS, hands: staves }
  return { ...(KINDS.find(([name]) => name.test(part.name))?.[1] ?? OTHERS), hands: null }
}

const ABOVE_C: Readonly<Record<Pitch['step'], number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 }

/** Semitones above the C four octaves below middle C; quarter tones are halves. */
export const semitones = (p: Pitch): number => 12 * p.octave + ABOVE_C[p.step] + p.alter

/** What begins at one place of a line: one note or a chord, with the grace notes before it. */
export type Moment = {
  readonly measure: number
  readonly at: Frac
  readonly end: Frac
  readonly top: number | null
  readonly low: number | null
  readonly count: number
  readonly graces: number
  /** Notes outside of the key in force, by name: "F1" is F sharp. */
  readonly foreign: readonly string[]
  readonly continued: boolean
}

/** The notes of a part, or of one of its staves, by the places at which they begin. Cue notes are not played. */
export const momentsOf = (
  part: Part,
  outside: (n: Part['notes'][number]) => boolean,
  staff: number | null = null,
): readonly Moment[] => {
  const out: { -readonly [K in keyof Moment]: Moment[K] }[] = []
  let graces = 0
  const played = part.notes.filter(n => n.kind !== 'rest' && !n.cue && (staff === null || n.staff === staff))
  for (const n of played.sort((a, b) => compare(a.at, b.at))) {
    if (n.grace) {
      graces += n.chord ? 0 : 1
      continue
    }
    const last = out.at(-1)
    const pitch = n.pitch && semitones(n.pitch)
    const end = add(n.at, n.length)
    const foreign = n.pitch && !n.continued && outside(n) ? [`${n.pitch.step}${n.pitch.alter}`] : []
    if (last && equal(last.at, n.at)) {
      if (pitch !== null) {
        last.top = Math.max(last.top ?? pitch, pitch)
        last.low = Math.min(last.low ?? pitch, pitch)
      }
      last.end = max(last.end, end)
      last.count++
      last.foreign = [...last.foreign, ...foreign]
      last.continued &&= n.continued
    } else {
      const { measure, at, continued } = n
      out.push({ measure, at, end, top: pitch, low: pitch, count: 1, graces, foreign, continued })
    }
    graces = 0
  }
  return out
}
