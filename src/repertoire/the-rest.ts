import { type Measure, measures } from '../music/form.ts'
import { compare, type Frac, less, sub, zero } from '../music/fraction.ts'
import { measureRanges, placeAt } from '../music/place.ts'
import { checked } from '../music/result.ts'
import type { Span } from '../music/sections.ts'
import { type PassageForm, passageForm, sectionSpan } from './passage-form.ts'
import type { Passage, Section } from './piece.ts'

/** What lies outside a passage's sections is practiced too: as sections of its own that nobody had to cut. */

const REST = 'the rest: m. '
export const isRest = (s: Pick<Section, 'name'>): boolean => s.name.startsWith(REST)

/** Shorter than this (whole notes) nothing is left to practice: a section that begins a moment late. */
const LEAST: Frac = { n: 1, d: 8 }

const gapsIn = (spans: readonly Span[], length: Frac): readonly Span[] => {
  const out: Span[] = []
  let at = zero
  for (const s of [...spans].sort((a, b) => compare(a.from, b.from))) {
    if (less(at, s.from)) out.push({ from: at, to: s.from })
    if (less(at, s.to)) at = s.to
  }
  if (less(at, length)) out.push({ from: at, to: length })
  return out.filter(g => !less(sub(g.to, g.from), LEAST))
}

const restOf = (p: Passage, whole: PassageForm, gap: Span): Section => {
  const inside = (m: Measure): boolean => less(m.from, gap.to) && less(gap.from, m.to)
  const indices = measures(whole.form).flatMap((m, i) => (inside(m) ? [i] : []))
  const [from, to] = [gap.from, gap.to].map(at => placeAt(at, whole)) as [string, string]
  // A plus stands between the ids of what is joined.
  const id = `${p.id}.${from}-${to}`.replaceAll('+', '_').replaceAll(/\s/g, '')
  return { id, name: REST + measureRanges(indices, whole.numbers), from, to }
}

const known = new WeakMap<Passage, readonly Section[]>()

/** The sections of a passage and what lies outside them, in the order of the music; none where it is not cut. */
export const sectionsAndRest = (p: Passage): readonly Section[] => {
  const own = p.sections ?? []
  if (own.length === 0) return []
  const before = known.get(p)
  if (before) return before
  const whole = checked(passageForm(p))
  const placed = own.map(s => ({ section: s, span: checked(sectionSpan(whole, s)) }))
  const rest = gapsIn(
    placed.map(x => x.span),
    whole.form.length,
  ).map(span => ({ section: restOf(p, whole, span), span }))
  const all =
    rest.length === 0
      ? own
      : [...placed, ...rest].sort((a, b) => compare(a.span.from, b.span.from)).map(x => x.section)
  known.set(p, all)
  return all
}
