import { frac } from '../music/fraction.ts'
import { QUARTER } from '../music/note-value.ts'
import { spoken, type Tempo } from '../music/tempo.ts'
import { countedBeat } from './counted-beat.ts'
import { markAtStart } from './read-part.ts'
import type { Part, Score } from './score.ts'

/** The tempo at the beginning of a movement. */
export type PrintedGoal =
  | { readonly kind: 'none' }
  /** `text`: "half = 63". */
  | { readonly kind: 'printed' | 'playback'; readonly text: string }
  /** A printed mark that nobody can mean ("quarter = 4"), and the playback tempo beside it. */
  | { readonly kind: 'absurd'; readonly text: string; readonly printed: string }

/** What can be chosen in a score. */
export type Offer = {
  readonly title: string
  /** In the order of the score; where several have one name they are counted: "Violin", "Violin (2)". */
  readonly parts: readonly { readonly id: string; readonly name: string }[]
  /** As they are counted from 1; one alone has no name. */
  readonly movements: readonly string[]
  /** By index of the movement; read when it is asked for. */
  readonly goalOf: (movement: number) => PrintedGoal
}

const goalIn = (score: Score, index: number): PrintedGoal => {
  const movement = score.movements[index]
  const mark = movement && markAtStart(score, movement)
  const tempo: Tempo | null = mark?.tempo ?? null
  if (!mark || !tempo) return { kind: 'none' }
  const text = spoken(tempo)
  if (mark.from !== 'sound') return { kind: mark.printed ? 'printed' : 'playback', text }
  return mark.text === '' ? { kind: 'playback', text } : { kind: 'absurd', text, printed: mark.text }
}

const counted = (names: readonly string[]): readonly string[] =>
  names.map((name, i) => {
    const before = names.slice(0, i).filter(n => n === name).length
    return before === 0 ? name : `${name} (${before + 1})`
  })

export const offerOf = (score: Score): Offer => {
  const names = counted(score.parts.map(p => p.name))
  const goals = new Map<number, PrintedGoal>()
  return {
    title: score.title,
    parts: score.parts.map((p, i) => ({ id: p.id, name: names[i] ?? p.name })),
    movements: score.movements.map(m => m.name),
    goalOf: movement => {
      const known = goals.get(movement) ?? goalIn(score, movement)
      goals.set(movement, known)
      return known
    },
  }
}

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
