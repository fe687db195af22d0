import type { Part } from './score.ts'

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
