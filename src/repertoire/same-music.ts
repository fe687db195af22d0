import { equal, fractionText } from '../music/fraction.ts'
import { meterText } from '../music/meter.ts'
import { ratioOf } from '../music/tempo.ts'
import type { Earlier, Section } from './lists.ts'
import type { Passage } from './passage.ts'
import { musicMark, type PassageForm, passageForm, sectionForm } from './passage-form.ts'

/** What becomes of the history where the music changed. */
export type HistoryChoice = 'keep' | 'anew'

/** A passage or section whose music is not what it was. */
export type Moved = {
  readonly id: string
  /** Its name; of a section "section 2". */
  readonly name: string
  /** What changed: "length", "meter" ... */
  readonly what: readonly string[]
}

const texts = (f: PassageForm) => {
  const { form, numbers } = f
  const first = form.marks[0]
  return {
    place: numbers.join(' '),
    meter: form.meters.map(m => `${fractionText(m.at)} ${meterText(m.meter)}`).join(),
    tempos: form.marks
      .map(m => `${fractionText(m.at)} ${first ? fractionText(ratioOf(m.tempo, first.tempo)) : ''} ${m.ramp}`)
      .join(),
  }
}

const differing = (a: PassageForm, b: PassageForm): readonly string[] => {
  const [was, is] = [texts(a), texts(b)]
  return [
    was.place === is.place ? '' : 'measures',
    was.meter === is.meter ? '' : 'meter',
    equal(a.form.pickup, b.form.pickup) ? '' : 'pick-up',
    equal(a.form.length, b.form.length) ? '' : 'length',
    was.tempos === is.tempos ? '' : 'tempo changes',
  ].filter(Boolean)
}

type Unit = {
  readonly id: string
  readonly name: string
  readonly passage: Passage
  readonly section?: Section
}

const units = (p: Passage): readonly Unit[] => [
  { id: p.id, name: p.name, passage: p },
  ...(p.sections ?? []).map(s => ({ id: s.id, name: `section ${s.name}`, passage: p, section: s })),
]

const musicOf = (u: Unit) => (u.section ? sectionForm(u.passage, u.section) : passageForm(u.passage))
const markOf = (u: Unit): string | null => {
  const mark = musicMark(u.passage, u.section)
  return mark.ok ? mark.value : null
}

/** The passage and those of its sections that were there before and hold other music now, by their content marks. */
export const movedMusic = (before: Passage, after: Passage): readonly Moved[] =>
  units(after).flatMap(now => {
    const was = units(before).find(u => u.id === now.id)
    if (!was || markOf(was) === markOf(now)) return []
    const [a, b] = [musicOf(was), musicOf(now)]
    const what = a.ok && b.ok ? differing(a.value, b.value) : []
    return [{ id: now.id, name: now.name, what: what.length > 0 ? what : ['place'] }]
  })

const anew = <U extends { readonly id: string; readonly was?: Earlier }>(u: U, newId: () => string): U => ({
  ...u,
  id: newId(),
  was: [...(u.was ?? []), u.id].slice(-200),
})

/** The passage with new ids for some of it: their history begins anew, the old ids stay in `was`. */
export const begunAnew = (p: Passage, ids: readonly string[], newId: () => string): Passage => {
  const sections = p.sections?.map(s => (ids.includes(s.id) ? anew(s, newId) : s))
  const whole = ids.includes(p.id) ? anew(p, newId) : p
  return { ...whole, ...(sections && { sections }) }
}
