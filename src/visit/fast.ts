import { countedEvents } from '../ladder/fold.ts'
import type { TakeKind } from '../ladder/key.ts'
import type { Tempo } from '../music/tempo.ts'
import { rungOf, type Session, type Setup } from './session.ts'

/** What is played at the goal: one beat and its next note, or the whole section. */
export type Fast = Extract<TakeKind, 'beat' | 'goal'>

/**
 * Ten slow, one fast: after so many whole repetitions on the ladder, clean or not, at whichever rung, one at the goal.
 * Common practice, no source; the number and what counts are a choice. One beat rather than the section: in our own
 * simulation of learners every fourth repetition at the goal cost more than it gave.
 */
const SLOW_ONES = 10

const wholeOnes = (s: Session): number =>
  countedEvents(s.events).filter(e => e.kind === 'verdict' && e.whole).length

/** How often the fast one had its turn by now. */
const fastsBy = (s: Session): number => Math.floor(wholeOnes(s) / SLOW_ONES)

/** The slow ones are done, and the fast one has not had its turn. */
export const fastIsNext = (s: Session): boolean => s.setup.fast !== undefined && fastsBy(s) > s.fasts

/** "a beat at the goal in 4": so many repetitions until then; empty without the rule. */
export const fastWords = (s: Session): string => {
  if (s.setup.fast === undefined) return ''
  const left = Math.max(0, (s.fasts + 1) * SLOW_ONES - wholeOnes(s))
  return `${FAST_WORDS[s.setup.fast]} in ${left}`
}

const FAST_WORDS: Readonly<Record<Fast, string>> = {
  beat: 'a beat at the goal',
  goal: 'all of it at the goal',
}

/** What follows a visit that ended by itself for a fast one. */
export const fastAfter = (s: Session): { readonly kind: Fast; readonly rung: Tempo } | null =>
  s.setup.fast && s.phase === 'done' && s.asks === null && fastIsNext(s)
    ? { kind: s.setup.fast, rung: rungOf(s.ladder) }
    : null

/** A visit that was left for something else, as it goes on: rung, row and verdicts are those of before. */
export const resumed = (setup: Setup, s: Session): Session => ({
  ...s,
  setup,
  ...(s.events.length === 0
    ? { phase: 'ready', note: { kind: 'start' } }
    : { phase: 'hold', note: { kind: 'back' } }),
  fasts: fastsBy(s),
})
