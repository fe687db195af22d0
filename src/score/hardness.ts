import { add, compare, equal, type Frac, max, min, toNumber } from '../music/fraction.ts'
import { quarters, type Tempo } from '../music/tempo.ts'
import { byMeasure } from './places.ts'
import type { Part, Pitch } from './score.ts'
import { tempoAt } from './tempo-line.ts'

/** What makes one written measure hard. All are counted on the line of highest notes, grace notes with it. */
export type MeasureHardness = {
  readonly measure: number
  readonly notes: number
  /** Notes a second while notes sound (rests left out); null without notes or tempo. */
  readonly perSecond: number | null
  /** Steps wider than a fifth between neighboring notes without a rest between, and the widest in semitones. */
  readonly leaps: number
  readonly widest: number
  /** How often the length of a note differs from that of the note before it. */
  readonly changes: number
  /** Notes altered against the key signature. */
  readonly foreign: number
}

const WIDEST_EASY = 7
const ABOVE_C: Readonly<Record<Pitch['step'], number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 }

/** Semitones above the C four octaves below middle C; quarter tones are halves. */
export const semitones = (p: Pitch): number => 12 * p.octave + ABOVE_C[p.step] + p.alter

/** One sounding moment of the line: the highest note of an onset, until the next onset or its own end. */
export type Moment = {
  readonly measure: number
  readonly at: Frac
  readonly end: Frac
  readonly pitch: number | null
  readonly graces: number
  readonly foreign: number
  readonly continued: boolean
}

/**
 * Hardness of each measure, in written order, at one tempo for all of it or (null) at the tempos of the part.
 * Facts only: what weighs how much is for `proposePassages`.
 */
export const hardness = (part: Part, at: Tempo | null = null): readonly MeasureHardness[] => {
  const moments = byMeasure(melody(part))
  let before: Moment | undefined
  return part.measures.map(m => {
    const out = { notes: 0, leaps: 0, widest: 0, changes: 0, foreign: 0 }
    let sounding = 0
    for (const now of moments.get(m.index) ?? []) {
      const length = lengthOf(now)
      sounding += length
      out.notes += now.graces + (now.continued ? 0 : 1)
      out.foreign += now.foreign
      if (before && !now.continued && equal(before.end, now.at)) {
        const width = now.pitch === null || before.pitch === null ? 0 : Math.abs(now.pitch - before.pitch)
        if (width > WIDEST_EASY) out.leaps++
        out.widest = Math.max(out.widest, width)
        if (Math.abs(length - lengthOf(before)) > SAME) out.changes++
      }
      before = now
    }
    const tempo = at ?? tempoAt(part.tempos, m.at)
    const seconds = tempo ? (sounding * SECONDS_OF_WHOLE) / toNumber(quarters(tempo)) : 0
    return { measure: m.index, ...out, perSecond: seconds > 0 && out.notes > 0 ? out.notes / seconds : null }
  })
}

/** Whole notes, as a plain number: good enough to be told apart from other lengths. */
const lengthOf = (m: Moment): number => toNumber(m.end) - toNumber(m.at)
const SAME = 1e-9
/** Seconds of a whole note at one quarter a minute. */
const SECONDS_OF_WHOLE = 240

/** The line of highest notes, in order. Cue notes are not played; a grace note counts with the note it leads to. */
export const melody = (part: Part): readonly Moment[] => {
  const moments: { -readonly [K in keyof Moment]: Moment[K] }[] = []
  let graces = 0
  for (const n of part.notes.filter(n => n.kind !== 'rest' && !n.cue).sort((a, b) => compare(a.at, b.at))) {
    if (n.grace) {
      graces += n.chord ? 0 : 1
      continue
    }
    const last = moments.at(-1)
    const pitch = n.pitch && semitones(n.pitch)
    const end = add(n.at, n.length)
    const foreign = n.foreign ? 1 : 0
    if (last && equal(last.at, n.at)) {
      if (pitch !== null && pitch > (last.pitch ?? pitch - 1)) last.pitch = pitch
      last.end = max(last.end, end)
      last.foreign += foreign
      last.continued &&= n.continued
    } else {
      if (last) last.end = min(last.end, n.at)
      const { measure, at, continued } = n
      moments.push({ measure, at, end, pitch, graces, foreign, continued })
    }
    graces = 0
  }
  return moments
}
