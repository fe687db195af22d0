import { parseChangesFrom } from '../music/changes.ts'
import { cutForm } from '../music/cut.ts'
import { type Breath, contentMark, type Form, measures } from '../music/form.ts'
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
import { attempt, given, type Need, ok, type Problem, problem, type Result } from '../music/result.ts'
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

/** In order of place; of two at one place the first comes first. */
const sorted = <T extends { readonly at: Frac }>(of: readonly T[]): readonly T[] =>
  [...of].sort((a, b) => compare(a.at, b.at))

/** The meter of each measure, pick-up included: changes hold until the next one. */
const metersOf = (p: Passage, first: Meter, numbers: readonly string[], need: Need): readonly Meter[] => {
  const changed = new Map<number, Meter>()
  for (const [i, c] of (p.changes ?? []).entries()) {
    const index = need(parseMeasure(c.at, numbers, `change ${i + 1}, at`))
    const meter = need(parseMeter(c.meter, `change ${i + 1}, meter`))
    if (index === 0 && p.pickup !== null)
      need(
        problem(
          `change ${i + 1}, at`,
          c.at,
          'a measure after the pick-up; the pick-up has the meter of the passage',
        ),
      )
    changed.set(index, meter)
  }
  let meter = first
  return numbers.map((_, i) => {
    meter = changed.get(i) ?? meter
    return meter
  })
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
const frameOf = (p: Passage, goal: Tempo, need: Need): Numbered => {
  const first = need(parseMeter(p.meter))
  const pickup = p.pickup === null ? zero : need(parseLength(p.pickup, 'pickup'))
  const numbers = need(numbersOf(p))
  const meters: { at: Frac; meter: Meter }[] = []
  let at = zero
  for (const [i, m] of metersOf(p, first, numbers, need).entries()) {
    const last = meters.at(-1)?.meter
    if (!last || !sameMeter(last, m)) meters.push({ at, meter: m })
    at = add(at, i === 0 && p.pickup !== null ? pickup : measureLength(m))
  }
  const form: Form = { meters, marks: [{ at: zero, tempo: goal }], pickup, length: at }
  const whole = { form, numbers }
  return need(ends(p, { ...whole, ...lettersOf(p, whole) }))
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

const marksOf = (p: Passage, frame: Numbered, goal: Tempo, need: Need): Form['marks'] => {
  const marks = sorted(
    (p.tempos ?? []).map((t, i) => {
      const at = need(parsePlace(t.at, frame, `tempo ${i + 1}, at`))
      const tempo = need(parseTempo(t.tempo, `tempo ${i + 1}, tempo`))
      return { at, tempo, ...(t.ramp && { ramp: true as const }) }
    }),
  )
  const [first] = marks
  if (!first) return [{ at: zero, tempo: goal }]
  // Else a new goal would change the ratios, and with them the music.
  return equal(first.at, zero)
    ? marks
    : need(
        problem(
          'tempo 1, at',
          p.tempos?.[0]?.at ?? '',
          `first the tempo at the start, ${placeAt(zero, frame)}`,
        ),
      )
}

const breathsOf = (p: Passage, whole: Numbered, need: Need): readonly Breath[] => {
  const { form } = whole
  return sorted(
    (p.breaths ?? []).map((b, i): Breath => {
      const at = need(parsePlace(b.at, whole, `breath ${i + 1}, at`))
      const beat = beatAt(form, at)
      const adds = b.adds === undefined ? beat : need(parseLength(b.adds, `breath ${i + 1}, adds`))
      const below = b.below === undefined ? undefined : need(parseTempo(b.below, `breath ${i + 1}, below`))
      const note = b.note === undefined ? beat : need(parseLength(b.note, `breath ${i + 1}, note`))
      const on = b.kind === 'fermata' && !b.before
      const end = on ? min(add(at, note), form.length) : at
      const waits = b.waits ? (true as const) : undefined
      return given({
        at: end,
        kind: b.kind,
        note: on ? sub(end, at) : undefined,
        adds,
        below,
        waits,
        word: b.word,
      })
    }),
  )
}

/** Passages never change, so each is read once: its sections are asked for by the hundred. */
const forms = new WeakMap<Passage, Result<PassageForm>>()

/** A passage as it stands in the repertoire, as music; or the first of its texts that does not fit it. */
export const passageForm = (p: Passage): Result<PassageForm> => {
  const known = forms.get(p) ?? readForm(p)
  forms.set(p, known)
  return known
}

const readForm = (p: Passage): Result<PassageForm> =>
  attempt(need => {
    const goal = need(parseTempo(p.goal, 'goal tempo'))
    const start = p.start === undefined ? null : need(parseTempo(p.start, 'start tempo'))
    const top = p.goalTop === undefined ? null : need(parseTempo(p.goalTop, 'upper goal'))
    const frame = frameOf(p, goal, need)
    const form = { ...frame.form, marks: marksOf(p, frame, goal, need) }
    const breaths = breathsOf(p, { ...frame, form }, need)
    const share = p.tempoChanges === undefined ? null : parseChangesFrom(p.tempoChanges)
    return {
      ...frame,
      form: {
        ...form,
        ...(breaths.length > 0 && { breaths }),
        ...(share?.ok && { changesFrom: share.value }),
      },
      start,
      goal,
      ...(top && compareTempo(top, goal) > 0 && { top }),
    }
  })

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
    ...(whole.top && { top: there(whole.top, whole.form, form) }),
  }
}

/** Where a section of a passage begins and ends. */
export const sectionSpan = (whole: PassageForm, s: Section): Result<Span> =>
  attempt(need => {
    const from = need(parsePlace(s.from, whole, 'from'))
    const to = need(parsePlace(s.to, whole, 'to'))
    return less(from, to) ? { from, to } : need(problem('to', s.to, `a place after ${s.from}`))
  })

/** A section of a passage as music. */
export const sectionForm = (p: Passage, s: Section): Result<PassageForm> =>
  attempt(need => {
    const whole = need(passageForm(p))
    const { from, to } = need(sectionSpan(whole, s))
    return cutPassage(whole, from, to)
  })

/** The content mark of a passage or one of its sections: while it stays the same, the history stays true. */
export const musicMark = (p: Passage, s?: Section): Result<string> =>
  attempt(need => {
    const part = need(s ? sectionForm(p, s) : passageForm(p))
    return contentMark(part.form, [placeAt(zero, part), ...part.numbers].join(' '))
  })

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
