import { airAt, type BreathLimit, breathes as isBreath, type MoreBreath, moreBreath } from '../click/air.ts'
import type { Form } from '../music/form.ts'
import { add, type Frac, zero } from '../music/fraction.ts'
import { cutNotes, type Note } from '../music/groups.ts'
import { placeAt, stretchWords } from '../music/place.ts'
import { ok, problem, type Result } from '../music/result.ts'
import { spoken, type Tempo, typed } from '../music/tempo.ts'
import { musicOf, spanOf } from './ladder-of.ts'
import { type PassageForm, passageNotes, tempoThere } from './passage-form.ts'
import type { Passage, Section } from './piece.ts'

/** What is planned where the music is cut into breaths. */
export type AirWord = 'breath' | 'bow'

/** A passage, or a part of it that begins `from` its first note (whole notes); its notes, where a part was read. */
export type BreathMusic = Pick<PassageForm, 'form' | 'goal'> & {
  readonly whole: PassageForm
  readonly from: Frac
  readonly notes: readonly Note[]
}

/** A passage, or one of its sections. */
export const partOf = (p: Passage, s: Section | null): BreathMusic => {
  const whole = musicOf(p)
  const { from, to } = s ? spanOf(p, [s]) : { from: zero, to: whole.form.length }
  const { form, goal } = s ? musicOf(p, [s]) : whole
  return { form, goal, whole, from, notes: cutNotes(passageNotes(p), from, to) }
}

/** The longest stretch in one breath with the first mark at a tempo: places in the passage, and seconds to a tenth. */
export type Breath = { readonly from: string; readonly to: string; readonly seconds: number }

export const tenths = (n: number): number => Math.round(n * 10) / 10

const placeIn = ({ whole, from }: Pick<BreathMusic, 'whole' | 'from'>, at: Frac): string =>
  placeAt(add(from, at), whole)

/** As it is played at a tempo: below a share of the goal without its tempo changes. */
export const oneBreath = (p: BreathMusic, at: Tempo): Breath => {
  const { from, to, seconds } = airAt(p, at)
  return { from: placeIn(p, from), to: placeIn(p, to), seconds: tenths(seconds) }
}

/** "7.2 s (m. 41 to m. 43)" */
export const breathText = (b: Breath): string => `${b.seconds} s (${stretchWords(b)})`

/** Whether marks of breathing stand in the music. */
export const breathes = (f: Form): boolean => (f.breaths ?? []).some(isBreath)

/** Seconds that the player can play in one breath; at most ten minutes. */
export const parseCapacity = (text: string, field = '--breath-seconds'): Result<number> => {
  const n = /^\d{1,3}(\.\d)?$/.test(text) ? Number(text) : 0
  return n >= 1 && n <= 600 ? ok(n) : problem(field, text, 'seconds from 1 to 600, like 8 or 8.5')
}

/** One more breath as `piece edit --breath` takes it, and its place in the passage; null where there is no beat inside. */
export const breathMark = (
  { at, below }: MoreBreath,
  part: Pick<BreathMusic, 'form' | 'whole' | 'from'>,
  word: AirWord,
): { readonly place: string; readonly text: string } | null => {
  if (!at) return null
  const place = placeIn(part, at)
  const bow = word === 'bow'
  // Where it is too long even at the goal, a breath is missing at any tempo.
  if (!below) return { place, text: bow ? `${place} bow` : place }
  const there = typed(tempoThere(below, part, part.whole))
  return { place, text: `${place} slow below=${there}${bow ? ' word=new bow' : ''}` }
}

/** What to do where the longest stretch at a tempo is too long for one breath; null = it fits. */
export type Advice = {
  readonly at: string
  readonly breath: Breath
  /** From this tempo on it fits; null = it does not at the goal either. */
  readonly below: string | null
  /** The mark to put in; null where there is no beat inside. */
  readonly mark: string | null
}

export const breathAdvice = (p: BreathMusic, at: Tempo, limit: BreathLimit, word: AirWord): Advice | null => {
  const more = moreBreath(p, at, limit, p.notes)
  return (
    more && {
      at: typed(at),
      breath: oneBreath(p, at),
      below: more.below && typed(more.below),
      mark: breathMark(more, p, word)?.text ?? null,
    }
  )
}

/** 'at quarter = 80, m. 41 to m. 43 takes 9.2 s, more than 8: perhaps --breath "42 slow below=96"' */
export const adviceText = (a: Advice, at: Tempo, { seconds, said }: BreathLimit): string =>
  `at ${spoken(at)}, ${stretchWords(a.breath)} takes ${a.breath.seconds} s, more than ${said ? seconds : `the longest done clean (${tenths(seconds)} s)`}${a.mark ? `: perhaps --breath "${a.mark}"` : ''}`
