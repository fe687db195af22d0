import { type Breath, type Form, measures } from '../music/form.ts'
import { add, equal, type Frac, frac, fractionText, less, sub, zero } from '../music/fraction.ts'
import { measureLength, meterText, sameMeter } from '../music/meter.ts'
import { NOTE_VALUES, noteValueName, QUARTER } from '../music/note-value.ts'
import { type Numbered, placeAt } from '../music/place.ts'
import { given, ok, problem, type Result } from '../music/result.ts'
import { beatAt } from '../music/sections.ts'
import { FASTEST, inUnit, type Tempo, tidy, typed } from '../music/tempo.ts'
import type { Passage } from './passage.ts'
import { passageForm } from './passage-form.ts'

const BREVE = frac(2)

/** All of a passage that follows from its music. */
export type PassageTexts = Pick<
  Passage,
  'measures' | 'meter' | 'count' | 'pickup' | 'goal' | 'numbers' | 'ends' | 'changes' | 'tempos' | 'breaths'
>

/** As a passage can say it: in quarters, or where they are too fast in breves, when its note value has no name. */
const tempoText = (t: Tempo): string => {
  const named = NOTE_VALUES.some(v => equal(v, t.unit))
  const quick = less(frac(FASTEST), inUnit(t, QUARTER).bpm)
  return typed(tidy(named ? t : inUnit(t, quick ? BREVE : QUARTER)))
}

const breathText = (b: Breath, whole: Numbered): NonNullable<Passage['breaths']>[number] => {
  const at = b.note ? sub(b.at, b.note) : b.at
  const beat = beatAt(whole.form, at)
  return given({
    at: placeAt(at, whole),
    kind: b.kind,
    note: b.note && !equal(b.note, beat) ? noteValueName(b.note) : undefined,
    before: (b.kind === 'fermata' && !b.note) || undefined,
    adds: equal(b.adds, zero) || equal(b.adds, beat) ? undefined : noteValueName(b.adds),
    below: b.below && tempoText(b.below),
    waits: b.waits,
    word: b.word,
  })
}

/** Whether a passage would call its measures so by itself, from the number of the first whole one. */
const countsOn = (numbers: readonly string[], whole: number): boolean => {
  const first = numbers[whole] ?? ''
  return /^[1-9]\d{0,3}$/.test(first) && numbers.every((n, i) => n === String(Number(first) - whole + i))
}

/** What must come back as it was: everything but tempos, which texts round to a thousandth. */
const outline = (f: Form): string => {
  const places = (all: readonly { readonly at: Frac }[]) => all.map(e => fractionText(e.at))
  const bars = measures(f).map(m => `${fractionText(m.from)} ${meterText(m.meter)}`)
  const lists = [bars, places(f.marks), places(f.breaths ?? [])]
  return [fractionText(f.pickup), fractionText(f.length), ...lists].join(' ')
}

const some = <T>(list: readonly T[] | undefined, least = 1): readonly T[] | undefined =>
  (list?.length ?? 0) < least ? undefined : list

/**
 * A form and what its measures are called as the texts of a passage: `passageForm` reads the same music from them. The
 * goal is the first tempo. A caesura or fermata that adds nothing comes back with a beat. Refused where a place or
 * length is finer than texts can say.
 */
export const passageTexts = ({ form: written, numbers }: Numbered): Result<PassageTexts> => {
  // Music without a whole measure is a measure that is cut short.
  const form = less(written.pickup, written.length) ? written : { ...written, pickup: zero }
  const whole: Numbered = { form, numbers }
  const bars = measures(form)
  const [meter, mark, last] = [form.meters[0], form.marks[0], bars.at(-1)]
  if (!meter || !mark || !last) throw new RangeError('a form needs a meter, a tempo and a length')
  const pickup = less(zero, form.pickup)
  for (const [what, count, most] of [
    ['measures', bars.length - (pickup ? 1 : 0), 999],
    ['tempos', form.marks.length, 1000],
    ['breaths', form.breaths?.length ?? 0, 2000],
  ] as const)
    if (count > most)
      return problem('passage', `${count} ${what}`, `at most ${most} ${what}: only some of these measures`)
  const byItself = countsOn(numbers, pickup ? 1 : 0)
  const full = { ...form, length: add(last.barline, measureLength(last.meter)) }
  const changes = bars
    .filter((m, i) => i > 0 && !sameMeter(m.meter, (bars[i - 1] ?? m).meter))
    .map(m => ({ at: placeAt(m.from, whole), meter: meterText(m.meter) }))
  const range = [...new Set([numbers[byItself && pickup ? 1 : 0], numbers.at(-1)])].join('-')
  const texts: PassageTexts = given({
    measures: range,
    meter: meterText(meter.meter),
    count: bars.length - (pickup ? 1 : 0),
    pickup: pickup ? noteValueName(form.pickup) : null,
    goal: tempoText(mark.tempo),
    numbers: byItself ? undefined : numbers,
    ends: equal(full.length, form.length) ? undefined : placeAt(form.length, { form: full, numbers }),
    changes: some(changes),
    tempos: some(form.marks, 2)?.map(m =>
      given({ at: placeAt(m.at, whole), tempo: tempoText(m.tempo), ramp: m.ramp }),
    ),
    breaths: some(form.breaths)?.map(b => breathText(b, whole)),
  })
  const read = passageForm({ ...texts, id: 'none', name: range })
  if (!read.ok)
    return { ok: false, problem: { ...read.problem, field: `measures ${range}, ${read.problem.field}` } }
  return outline(read.value.form) === outline(form)
    ? ok(texts)
    : problem(`measures ${range}`, 'a place or a length', 'places and lengths no finer than 1/4096')
}
