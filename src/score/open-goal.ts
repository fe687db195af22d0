import { frac } from '../music/fraction.ts'
import { QUARTER } from '../music/note-value.ts'
import type { Tempo } from '../music/tempo.ts'
import { countedBeat } from './counted-beat.ts'
import type { Part } from './score.ts'

/** How far a ladder goes while nobody knows the tempo: by the heading, roughly. Common practice, no source. */
const HEADINGS: readonly (readonly [RegExp, number])[] = [
  [/presto|vivace|allegro|schnell|vif|animé|rasch|lively|fast/i, 120],
  [/largo|lento|grave|adagio|langsam|lent\b|slow/i, 56],
]
const USUAL = 92

/** A goal for now, in the beat that is counted: the rehearsal will say the true one. */
export const openGoal = (part: Part): Tempo => {
  const heading = part.words.find(w => HEADINGS.some(([re]) => re.test(w.text)))?.text ?? ''
  const bpm = HEADINGS.find(([re]) => re.test(heading))?.[1] ?? USUAL
  const unit = countedBeat(part.measures[0]?.meter ?? null, frac(96))
  return { unit: unit.d > 8 ? QUARTER : unit, bpm: frac(bpm) }
}
