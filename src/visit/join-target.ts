import { must } from '../app/context.ts'
import type { Presets } from '../app/presets.ts'
import type { Typed } from '../cli/options.ts'
import { joinKey, seamKey, sectionKey } from '../ladder/key.ts'
import { JOIN_RULES } from '../ladder/start.ts'
import { equal, zero } from '../music/fraction.ts'
import { joined, type Span, seam } from '../music/sections.ts'
import { passageForm, sectionForm, sectionSpan } from '../repertoire/passage-form.ts'
import type { Passage, Piece, Section } from '../repertoire/piece.ts'
import { fromPassage, type Target } from './subject.ts'

/** Where joined sections begin and end; all of a passage, where they reach from its first note to its last, are the whole. */
export const joinSpan = (p: Passage, own: readonly Section[]): Span & { readonly whole: boolean } => {
  const music = must(passageForm(p))
  const span = own.map(s => must(sectionSpan(music, s))).reduce(joined)
  return { ...span, whole: equal(span.from, zero) && equal(span.to, music.form.length) }
}

/** Whose ceiling it is when these sections are played as one: that of the passage, where they are all of it. */
export const joinedKey = (p: Passage, own: readonly Section[]): string =>
  joinSpan(p, own).whole ? sectionKey(p.id) : joinKey(own.map(s => s.id))

/** Sections as one, or (`by`) only where the last one meets those before. */
export const joinTarget = (
  piece: Piece,
  passage: Passage,
  own: readonly Section[],
  by: 'beat' | 'measure' | null,
  t: Typed,
  presets: Presets,
): Target => {
  const whole = must(passageForm(passage))
  const spans = own.map(s => must(sectionSpan(whole, s)))
  const [last, before] = [spans.at(-1), spans.slice(0, -1)]
  const span =
    by && last && before.length > 0 ? seam(whole.form, before.reduce(joined), last, by) : spans.reduce(joined)
  const target = fromPassage(
    piece,
    passage,
    span,
    {
      key: by ? seamKey(own.map(s => s.id)) : joinedKey(passage, own),
      name: `, ${by ? 'seam of ' : 'sections '}${own.map(s => s.name).join('+')}`,
      sections: own,
    },
    t,
    presets,
  )
  const joins = own.map(s => ({ id: s.id, goal: must(sectionForm(passage, s)).goal }))
  return { ...target, rules: t.clean === undefined ? JOIN_RULES : target.rules, joins }
}
