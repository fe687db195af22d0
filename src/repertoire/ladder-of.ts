import { runsOf } from '../ladder/chain.ts'
import { downKey, joinKey, sectionKey } from '../ladder/key.ts'
import { type Climb, DEFAULT_RULES, parseDayStart, parseSlips, parseUp, type Rules } from '../ladder/rules.ts'
import { parseStep } from '../ladder/rungs.ts'
import type { Ladder } from '../ladder/standing.ts'
import { JOIN_RULES } from '../ladder/start.ts'
import { equal, zero } from '../music/fraction.ts'
import { checked } from '../music/result.ts'
import { joined, type Span } from '../music/sections.ts'
import { compareTempo } from '../music/tempo.ts'
import { cutPassage, type PassageForm, passageForm, sectionSpan } from './passage-form.ts'
import type { Passage, Section } from './piece.ts'
import { sectionsAndRest } from './the-rest.ts'

/** Where sections that are played as one begin and end; `whole` = from the passage's first note to its last. */
export const spanOf = (p: Passage, own: readonly Section[]): Span & { readonly whole: boolean } => {
  const music = checked(passageForm(p))
  const span = own.map(s => checked(sectionSpan(music, s))).reduce(joined)
  return { ...span, whole: equal(span.from, zero) && equal(span.to, music.form.length) }
}

/** A passage, one of its sections, or several as one, as music. */
export const musicOf = (p: Passage, own: readonly Section[] = []): PassageForm => {
  const whole = checked(passageForm(p))
  if (own.length === 0) return whole
  const { from, to } = spanOf(p, own)
  return cutPassage(whole, from, to)
}

/** The sections of a passage, and the rest of it, as they follow one another, in runs of neighbors. */
export const sectionRuns = (p: Passage): readonly (readonly Section[])[] => {
  const own = sectionsAndRest(p)
  if (own.length === 0) return []
  return runsOf(own.map(s => spanOf(p, [s]))).map(run => run.map(i => own[i] as Section))
}

/** Step, rules and the start of a day, as they were said; else the usual ones. */
export const climbOf = (said: Climb, rules: Rules): Pick<Ladder, 'step' | 'rules' | 'dayStart'> => {
  const { clean, step, slips, dayStart } = said
  return {
    step: step === undefined ? { kind: 'notch' } : checked(parseStep(step)),
    rules: {
      ...rules,
      ...(clean !== undefined && { up: checked(parseUp(clean)) }),
      ...(slips !== undefined && { slips: checked(parseSlips(slips)) }),
    },
    ...(dayStart !== undefined && { dayStart: checked(parseDayStart(dayStart)) }),
  }
}

/**
 * The ladder of a passage (no sections named), of one of its sections, or of several as one. All sections of a passage as
 * one are the passage: one key, one rule. `usual` = what the player wants where the passage does not say. A start above
 * the goal leads down. Two in a row go up only while some sections are left out.
 */
export const ladderOf = (p: Passage, own: readonly Section[] = [], usual: Climb = {}): Ladder => {
  const [first, ...more] = own
  if (more.length > 0 && spanOf(p, own).whole) return ladderOf(p, [], usual)
  const { start, goal, top } = musicOf(p, own)
  const down = start !== null && compareTempo(start, goal) > 0
  const key = more.length > 0 ? joinKey(own.map(s => s.id)) : sectionKey((first ?? p).id)
  const parts = first ? own : (sectionRuns(p).find(run => spanOf(p, run).whole) ?? [])
  return {
    key: down ? downKey(key) : key,
    start,
    goal,
    ...(top && !down && { top }),
    direction: down ? 'down' : 'up',
    ...climbOf({ ...usual, ...p }, more.length > 0 ? JOIN_RULES : DEFAULT_RULES),
    ...(more.length === 0 && first && { within: { key: sectionKey(p.id), goal: musicOf(p).goal } }),
    ...(parts.length > 1 && { joins: parts.map(s => ({ id: s.id, goal: musicOf(p, [s]).goal })) }),
  }
}
