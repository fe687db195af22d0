import { runsOf } from '../ladder/chain.ts'
import { joinKey, sectionKey } from '../ladder/key.ts'
import { DEFAULT_RULES } from '../ladder/rules.ts'
import type { Ladder } from '../ladder/standing.ts'
import { JOIN_RULES } from '../ladder/start.ts'
import { equal, zero } from '../music/fraction.ts'
import { checked } from '../music/result.ts'
import { joined, type Span } from '../music/sections.ts'
import { cutPassage, type PassageForm, passageForm, sectionSpan } from './passage-form.ts'
import type { Passage, Section } from './piece.ts'

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

/** The sections of a passage as they follow one another, in runs of neighbors. */
export const sectionRuns = (p: Passage): readonly (readonly Section[])[] => {
  const own = p.sections ?? []
  if (own.length === 0) return []
  return runsOf(own.map(s => spanOf(p, [s]))).map(run => run.map(i => own[i] as Section))
}

/**
 * The ladder of a passage (no sections named), of one of its sections, or of several as one. All sections of a passage as
 * one are the passage: one key, one rule. Two in a row go up only while some sections are left out.
 */
export const ladderOf = (p: Passage, own: readonly Section[] = []): Ladder => {
  const [first, ...more] = own
  if (more.length > 0 && spanOf(p, own).whole) return ladderOf(p)
  const { start, goal, top } = musicOf(p, own)
  const parts = first ? own : (sectionRuns(p).find(run => spanOf(p, run).whole) ?? [])
  return {
    key: more.length > 0 ? joinKey(own.map(s => s.id)) : sectionKey((first ?? p).id),
    start,
    goal,
    ...(top ? { top } : {}),
    step: { k: 'notch' },
    direction: 'up',
    rules: more.length > 0 ? JOIN_RULES : DEFAULT_RULES,
    ...(parts.length > 1 ? { joins: parts.map(s => ({ id: s.id, goal: musicOf(p, [s]).goal })) } : {}),
  }
}
