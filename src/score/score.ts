import type { Frac } from '../music/fraction.ts'
import type { Meter } from '../music/meter.ts'
import type { Result } from '../music/result.ts'
import type { Tempo } from '../music/tempo.ts'

/*
 * What is read of a score. Positions and lengths are exact fractions of a whole note. In a `WrittenMeasure` (one part
 * alone, before the parts are put together) `at` counts from the bar line, in a `Part` from the start of the piece in
 * written order; an event at the very end of a measure belongs to that measure, not to the next.
 */

export type Local<T> = T & { readonly at: Frac }
/** A place in a part: index of the written measure (0 = the first) and position from the start. */
export type Place = { readonly measure: number; readonly at: Frac }
export type Placed<T> = T & Place

export type Step = 'C' | 'D' | 'E' | 'F' | 'G' | 'A' | 'B'
/** As written for the instrument; `alter` in semitones (halves are quarter tones), octave 4 begins at middle C. */
export type Pitch = { readonly step: Step; readonly alter: number; readonly octave: number }

export type NoteFacts = {
  readonly kind: 'pitched' | 'unpitched' | 'rest'
  readonly pitch: Pitch | null
  /** 0 for a grace note. */
  readonly length: Frac
  /** Sounds with the note before, at the same place. */
  readonly chord: boolean
  readonly grace: boolean
  readonly cue: boolean
  /** Tied from the note before: no new onset. */
  readonly continued: boolean
  readonly voice: string
  readonly staff: number
  /** Altered against the key signature. */
  readonly foreign: boolean
}

/** The three shapes of a metronome mark, and a playing tempo without one. */
export type MarkShape =
  /** Note value = number; `text` as printed ("c. 108"), `bpm` null where it holds no number. */
  | { readonly kind: 'number'; readonly unit: Frac; readonly text: string; readonly bpm: Frac | null }
  /** Note value before = note value from here on, as beat units or as groups of notes. */
  | { readonly kind: 'relation'; readonly before: Frac; readonly after: Frac }
  | { readonly kind: 'sound' }

/** `sound`: quarters a minute for playback, null where there is none. `printed`: false for a hidden mark. */
export type MarkFacts = { readonly shape: MarkShape; readonly sound: Frac | null; readonly printed: boolean }

/** A breath, caesura or fermata after a note that begins at `from`; `shape` as in the file, "" = the usual one. */
export type BreathFacts = {
  readonly kind: 'breath' | 'caesura' | 'fermata'
  readonly shape: string
  readonly from: Frac
}

/** One end of a slur, on a note that ends at `end`. */
export type SlurEnd = { readonly type: 'start' | 'stop'; readonly number: string; readonly end: Frac }

/** Signs that change the order of measures; labels are the file's names of signs, "" where it gives none. */
export type Road = {
  readonly forward: boolean
  /** `times` null: twice, or as the endings say. */
  readonly backward: { readonly times: number | null; readonly afterJump: boolean } | null
  /** Numbers of the ending that begins here; empty where the file gives none. */
  readonly endingStart: readonly number[] | null
  readonly endingStop: boolean
  readonly segno: string | null
  readonly coda: string | null
  readonly toCoda: string | null
  readonly dalSegno: string | null
  readonly daCapo: boolean
  readonly fine: boolean
}

/** A time signature: `meter` null where it is without measure or not understood; `text` as written. */
export type Time = { readonly meter: Meter | null; readonly text: string }

/** Semitones from written to sounding pitch, octaves included. A fact only: nothing is transposed. */
type Transposition = { readonly semitones: number }

/** Where a voice begins in its measure, how much its notes and rests come to, and whether any of it sounds. */
export type Voice = {
  readonly name: string
  readonly from: Frac
  readonly holds: Frac
  readonly sounds: boolean
}

/** What is read of every part, since it stands for all: the notes of most parts nobody asks for. */
export type WrittenMeasure = {
  readonly number: string
  /** What is printed instead of the number, "" where nothing is. */
  readonly shown: string
  readonly implicit: boolean
  /** The furthest position that notes, rests and forwards reach. */
  readonly length: Frac
  readonly voices: readonly Voice[]
  /** A new time signature at the start. */
  readonly time: Time | null
  readonly marks: readonly Local<MarkFacts>[]
  readonly words: readonly Local<{ readonly text: string }>[]
  readonly rehearsals: readonly Local<{ readonly text: string }>[]
  readonly breaths: readonly Local<BreathFacts>[]
  readonly transpositions: readonly Local<Transposition>[]
  readonly road: Road
  /** How the bar line at its end is drawn, where it is not a plain one. */
  readonly bar: Bar | null
  /** Sharps (above 0) or flats (below 0) of a new key signature at its start. */
  readonly key: number | null
}

/** The rest of a measure, of a part that is asked for. */
export type WrittenNotes = {
  readonly notes: readonly Local<NoteFacts>[]
  readonly slurs: readonly Local<SlurEnd>[]
}

/** Two thin lines, or the thin and the thick one that end a movement. */
export type Bar = 'double' | 'final'

/** Measures `from` to `to` (indices, both included) that are a piece of music of their own. */
export type Movement = {
  /** "III. Scherzo" where it is printed, else "movement 3"; "" where the score has only one. */
  readonly name: string
  readonly from: number
  readonly to: number
}

/** A score as read: parts can be listed even when one of them is broken; `readPart` says what is wrong with it. */
export type Score = {
  readonly title: string
  readonly parts: readonly ScorePart[]
  /** At least one. */
  readonly movements: readonly Movement[]
  readonly warnings: readonly string[]
}
export type ScorePart = {
  readonly id: string
  readonly name: string
  readonly written: Result<readonly WrittenMeasure[]>
  /** By measures; read when they are first asked for. */
  readonly notes: () => readonly WrittenNotes[]
  readonly warnings: readonly string[]
}

export type Measure = {
  readonly index: number
  /** The file's own token: "12", "0" for a pick-up, "X1". */
  readonly number: string
  readonly shown: string
  readonly implicit: boolean
  readonly at: Frac
  /** What it really holds; shorter than its meter in a pick-up or a divided measure. */
  readonly length: Frac
  readonly meter: Meter | null
  /** "3+2/8", "2/4+3/8", "senza misura", or "no time signature". */
  readonly meterText: string
  readonly road: Road
  readonly bar: Bar | null
  readonly key: number | null
}

export type TempoMark = Placed<{
  /** Null where it could not be resolved: a text without a number, a relation with nothing before it. */
  readonly tempo: Tempo | null
  /** A relation and an "a tempo" are resolved against the tempo that ran before. */
  readonly from: 'mark' | 'relation' | 'sound' | 'word'
  readonly text: string
  readonly printed: boolean
  /** Slides evenly to the next mark (a rit. or accel. whose both tempos are written). */
  readonly ramp: boolean
  /** The part it stands in: tempos and rehearsal marks often stand in the top part only. */
  readonly part: string
}>

export type Words = Placed<{ readonly text: string; readonly part: string }>
/** From the onset of its first note to the end of its last. */
export type Slur = { readonly from: Place; readonly to: Place }

/** One part, with what belongs to all parts (tempos, tempo words, rehearsal marks, repeats) taken from all of them. */
export type Part = {
  readonly id: string
  readonly name: string
  readonly measures: readonly Measure[]
  readonly notes: readonly Placed<NoteFacts>[]
  readonly tempos: readonly TempoMark[]
  readonly words: readonly Words[]
  readonly rehearsals: readonly Words[]
  readonly breaths: readonly Placed<BreathFacts>[]
  readonly slurs: readonly Slur[]
  readonly transpositions: readonly Placed<Transposition>[]
  readonly warnings: readonly string[]
}
