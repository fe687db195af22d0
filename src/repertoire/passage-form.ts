import { parseChangesFrom } from '../music/changes.ts'
import { contentMark } from '../music/content-mark.ts'
import { cutForm } from '../music/cut.ts'
import { type Breath, type Form, measures } from '../music/form.ts'
import {
  add,
  compare,
  equal,
  type Frac,
  less,
  min,
  mulNear,
  parseFraction,
  sub,
  zero,
} from '../music/fraction.ts'
import { type Meter, measureLength, parseMeter, sameMeter } from '../music/meter.ts'
import { parseLength } from '../music/note-value.ts'
import {
  type Letters,
  lettersBeside,
  type Numbered,
  numbersBetween,
  parseMeasure,
  parsePlace,
  placeAt,
} from '../music/place.ts'
import { ok, type Problem, problem, type Result } from '../music/result.ts'
import { beatAt, type Span } from '../music/sections.ts'
import { compareTempo, inUnit, parseTempo, ratioOf, type Tempo, tidy } from '../music/tempo.ts'
import type { Section } from './lists.ts'
import { NOTE, type Passage } from './passage.ts'

/** A passage or section as music: its form, what its measures are called, and the ends of its ladder. */
export type PassageForm = Numbered & {
  readonly start: Tempo | null
  readonly goal: Tempo
  /** Upper end of a goal that is a range. */
  readonly top?: Tempo
}

/** Number of the first whole measure: "41-44" begins with 41, "m. 41" too; anything else counts from 1. */
const firstNumber = (measures: string | undefined): number =>
  Number(/^\D{0,4}(\d{1,4})/.exec(measures ?? '')?.[1] ?? 1)

/** All values, or the first problem. */
const all = <T>(results: Iterable<Result<T>>): Result<readonly T[]> => {
  const out: T[] = []
  for (const r of results) {
    if (!r.ok) return r
    out.push(r.value)
  }
  return ok(out)
}

/** In order of place; of two at one place the first comes first. */
const sorted = <T extends { readonly at: Frac }>(of: readonly T[]): readonly T[] =>
  [...of].sort((a, b) => compare(a.at, b.at))

/** The meter of each measure, pick-up included: changes hold until the next one. */
const metersOf = (p: Passage, first: Meter, numbers: readonly string[]): Result<readonly Meter[]> => {
  const changed = new Map<number, Meter>()
  for (const [i, c] of (p.changes ?? []).entries()) {
    const index = parseMeasure(c.at, numbers, `change ${i + 1}, at`)
    const meter = parseMeter(c.meter, `change ${i + 1}, meter`)
    if (!index.ok) return index
    if (!meter.ok) return meter
    if (index.value === 0 && p.pickup !== null)
      return problem(
        `change ${i + 1}, at`,
        c.at,
        'a measure after the pick-up; the pick-up has the meter of the passage',
      )
    changed.set(index.value, meter.value)
  }
  let meter = first
  return ok(
    numbers.map((_, i) => {
      meter = changed.get(i) ?? meter
      return meter
    }),
  )
}

const numbersOf = (p: Passage): Result<readonly string[]> => {
  const pickup = p.pickup === null ? 0 : 1
  const count = p.count + pickup
  if (p.numbers === undefined) {
    const first = firstNumber(p.measures) - pickup
    return ok(Array.from({ length: count }, (_, i) => String(first + i)))
  }
  const accepted = `${count} numbers, one a measure${pickup ? ' and one for the pick-up' : ''}`
  return p.numbers.length === count
    ? ok(p.numbers)
    : problem('numbers', `${p.numbers.length} numbers`, accepted)
}

/** Meters, pick-up and length; the goal as the only tempo. */
const frameOf = (p: Passage, goal: Tempo): Result<Numbered> => {
  const meter = parseMeter(p.meter)
  const pickup = p.pickup === null ? ok(zero) : parseLength(p.pickup, 'pickup')
  const numbers = numbersOf(p)
  if (!meter.ok) return meter
  if (!pickup.ok) return pickup
  if (!numbers.ok) return numbers
  const each = metersOf(p, meter.value, numbers.value)
  if (!each.ok) return each
  const meters: { at: Frac; meter: Meter }[] = []
  let at = zero
  for (const [i, m] of each.value.entries()) {
    const last = meters.at(-1)?.meter
    if (!last || !sameMeter(last, m)) meters.push({ at, meter: m })
    at = add(at, i === 0 && p.pickup !== null ? pickup.value : measureLength(m))
  }
  const form: Form = { meters, marks: [{ at: zero, tempo: goal }], pickup: pickup.value, length: at }
  const whole = { form, numbers: numbers.value }
  return ends(p, { ...whole, ...lettersOf(p, whole) })
}

/** What stands beside the measures of a passage; null where it has no rehearsal marks. */
export const lettersOfPassage = (p: Passage): Letters | null => {
  const whole = p.rehearsals ? passageForm(p) : null
  return whole?.ok ? lettersBeside(whole.value) : null
}

/** Where the rehearsal marks stand; one whose place is not in the music counts for nothing here. */
const lettersOf = (p: Passage, whole: Numbered): Pick<Numbered, 'letters'> => {
  const bars = p.rehearsals ? measures(whole.form) : []
  const letters = (p.rehearsals ?? []).flatMap(r => {
    const at = parsePlace(r.at, whole)
    const index = at.ok ? bars.findLastIndex(m => compare(m.from, at.value) <= 0) : -1
    // "C+4" where the music begins: its mark stands before it.
    const [, text = r.text, after = '0'] = /^(.+)\+(\d{1,3})$/.exec(r.text) ?? []
    return index < 0 ? [] : [{ text, index: index - Number(after) }]
  })
  return letters.length > 0 ? { letters } : {}
}

const ends = (p: Passage, whole: Numbered): Result<Numbered> => {
  if (p.ends === undefined) return ok(whole)
  const end = parsePlace(p.ends, whole, 'ends')
  if (!end.ok) return end
  const last = measures(whole.form).at(-1)
  return last && less(last.from, end.value)
    ? ok({ ...whole, form: { ...whole.form, length: end.value } })
    : problem('ends', p.ends, `a place inside the last measure, ${whole.numbers.at(-1)}`)
}

const marksOf = (p: Passage, frame: Numbered, goal: Tempo): Result<Form['marks']> => {
  const read = all(
    (p.tempos ?? []).map((t, i) => {
      const at = parsePlace(t.at, frame, `tempo ${i + 1}, at`)
      const tempo = parseTempo(t.tempo, `tempo ${i + 1}, tempo`)
      if (!at.ok) return at
      return tempo.ok
        ? ok({ at: at.value, tempo: tempo.value, ...(t.ramp ? { ramp: true as const } : {}) })
        : tempo
    }),
  )
  if (!read.ok) return read
  const marks = sorted(read.value)
  const [first] = marks
  if (!first) return ok([{ at: zero, tempo: goal }])
  // Else a new goal would change the ratios, and with them the music.
  return equal(first.at, zero)
    ? ok(marks)
    : problem('tempo 1, at', p.tempos?.[0]?.at ?? '', `first the tempo at the start, ${placeAt(zero, frame)}`)
}

const breathsOf = (p: Passage, whole: Numbered): Result<readonly Breath[]> => {
  const { form } = whole
  const read = all(
    (p.breaths ?? []).map((b, i): Result<Breath> => {
      const at = parsePlace(b.at, whole, `breath ${i + 1}, at`)
      const adds = b.adds === undefined ? ok(null) : parseLength(b.adds, `breath ${i + 1}, adds`)
      const below = b.below === undefined ? ok(null) : parseTempo(b.below, `breath ${i + 1}, below`)
      if (!at.ok) return at
      if (!adds.ok) return adds
      if (!below.ok) return below
      const note =
        b.note === undefined ? ok(beatAt(form, at.value)) : parseLength(b.note, `breath ${i + 1}, note`)
      if (!note.ok) return note
      const on = b.kind === 'fermata' && !b.before
      const end = on ? min(add(at.value, note.value), form.length) : at.value
      return ok({
        at: end,
        kind: b.kind,
        ...(on ? { note: sub(end, at.value) } : {}),
        adds: adds.value ?? beatAt(form, at.value),
        ...(below.value ? { below: below.value } : {}),
        ...(b.waits ? { waits: true as const } : {}),
        ...(b.word === undefined ? {} : { word: b.word }),
      })
    }),
  )
  return read.ok ? ok(sorted(read.value)) : read
}

/** Passages never change, so each is read once: its sections are asked for by the hundred. */
const forms = new WeakMap<Passage, Result<PassageForm>>()

/** A passage as it stands in the repertoire, as music; or the first of its texts that does not fit it. */
export const passageForm = (p: Passage): Result<PassageForm> => {
  const known = forms.get(p) ?? readForm(p)
  forms.set(p, known)
  return known
}

const readForm = (p: Passage): Result<PassageForm> => {
  const goal = parseTempo(p.goal, 'goal tempo')
  const start = p.start === undefined ? ok(null) : parseTempo(p.start, 'start tempo')
  if (!goal.ok) return goal
  if (!start.ok) return start
  const top = p.goalTop === undefined ? ok(null) : parseTempo(p.goalTop, 'upper goal')
  if (!top.ok) return top
  const frame = frameOf(p, goal.value)
  if (!frame.ok) return frame
  const marks = marksOf(p, frame.value, goal.value)
  if (!marks.ok) return marks
  const form = { ...frame.value.form, marks: marks.value }
  const breaths = breathsOf(p, { ...frame.value, form })
  const share = p.tempoChanges === undefined ? null : parseChangesFrom(p.tempoChanges)
  if (!breaths.ok) return breaths
  return ok({
    form: {
      ...form,
      ...(breaths.value.length > 0 ? { breaths: breaths.value } : {}),
      ...(share?.ok ? { changesFrom: share.value } : {}),
    },
    numbers: frame.value.numbers,
    ...(frame.value.letters ? { letters: frame.value.letters } : {}),
    start: start.value,
    goal: goal.value,
    ...(top.value && compareTempo(top.value, goal.value) > 0 ? { top: top.value } : {}),
  })
}

/** A tempo of the passage's first mark as it is where a part of it begins. */
export const tempoThere = (t: Tempo, whole: { readonly form: Form }, part: { readonly form: Form }): Tempo =>
  whole.form === part.form ? t : there(t, whole.form, part.form)

const there = (t: Tempo, whole: Form, part: Form): Tempo => {
  const [first, here] = [whole.marks[0]?.tempo, part.marks[0]?.tempo]
  if (!first || !here) return t
  const { unit, bpm } = inUnit(t, here.unit)
  return tidy({ unit, bpm: mulNear(bpm, ratioOf(here, first)) })
}

/** Part of a passage as music: numbers of its measures, and start and goal as the tempo map has them where it begins. */
export const cutPassage = (whole: PassageForm, from: Frac, to: Frac): PassageForm => {
  const form = cutForm(whole.form, from, to)
  const bars = measures(whole.form)
  const first = bars.findLastIndex(m => compare(m.from, from) <= 0)
  const last = bars.findLastIndex(m => less(m.from, to))
  return {
    form,
    numbers: numbersBetween(whole.numbers, first, last + 1),
    start: whole.start && there(whole.start, whole.form, form),
    goal: there(whole.goal, whole.form, form),
    ...(whole.top ? { top: there(whole.top, whole.form, form) } : {}),
  }
}

/** Where a section of a passage begins and ends. */
export const sectionSpan = (whole: PassageForm, s: Section): Result<Span> => {
  const from = parsePlace(s.from, whole, 'from')
  const to = parsePlace(s.to, whole, 'to')
  if (!from.ok) return from
  if (!to.ok) return to
  return less(from.value, to.value)
    ? ok({ from: from.value, to: to.value })
    : problem('to', s.to, `a place after ${s.from}`)
}

/** A section of a passage as music. */
export const sectionForm = (p: Passage, s: Section): Result<PassageForm> => {
  const whole = passageForm(p)
  if (!whole.ok) return whole
  const span = sectionSpan(whole.value, s)
  return span.ok ? ok(cutPassage(whole.value, span.value.from, span.value.to)) : span
}

/** The content mark of a passage or one of its sections: while it stays the same, the history stays true. */
export const musicMark = (p: Passage, s?: Section): Result<string> => {
  const part = s ? sectionForm(p, s) : passageForm(p)
  if (!part.ok) return part
  const { form, numbers } = part.value
  return ok(contentMark(form, [placeAt(zero, part.value), ...numbers].join(' ')))
}

export type PassageNote = { readonly at: Frac; readonly length: Frac; readonly pitch: string | null }

/** The notes of a passage, where a part was read; lines that are none are left out. */
export const passageNotes = (p: Passage): readonly PassageNote[] =>
  (p.notes ?? []).flatMap(line => {
    const [, at, length, pitch] = NOTE.exec(line) ?? []
    const [from, lasts] = [parseFraction(at ?? ''), parseFraction(length ?? '')]
    return from && lasts ? [{ at: from, length: lasts, pitch: pitch === 'x' ? null : (pitch ?? null) }] : []
  })

/** What does not fit together in a passage whose fields can be read, or null: "section 2, to". */
export const checkMusic = (p: Passage): Problem | null => {
  const whole = passageForm(p)
  if (!whole.ok) return whole.problem
  for (const [i, s] of (p.sections ?? []).entries()) {
    const span = sectionSpan(whole.value, s)
    if (!span.ok) return { ...span.problem, field: `section ${i + 1}, ${span.problem.field}` }
  }
  return null
}
