import {
  compare,
  decimal,
  div,
  equal,
  type Frac,
  frac,
  mul,
  mulNear,
  one,
  parseDecimal,
  roundTimes,
  toNumber,
} from './fraction.ts'
import { noteValueName, parseNoteValue, QUARTER } from './note-value.ts'
import { ok, problem, type Result } from './result.ts'

/** So many of a note value a minute: 80 dotted quarters is `{ unit: 3/8, bpm: 80 }`. */
export type Tempo = { readonly unit: Frac; readonly bpm: Frac }

/** Slowest and fastest tempo that is taken, in beats a minute of the typed note value. */
export const SLOWEST = 1
export const FASTEST = 999

const ACCEPTED = `beats a minute from ${SLOWEST} to ${FASTEST}, like 112 (quarters), 63.5 or dotted-quarter=80`

/** A number of quarters a minute; throws RangeError outside 1 to 999 or for more than three decimals. */
export const tempo = (bpm: number, unit: Frac = QUARTER): Tempo => {
  const exact = parseDecimal(String(bpm))
  if (!exact || bpm < SLOWEST || bpm > FASTEST) throw new RangeError(`tempo ${bpm}`)
  return { unit, bpm: exact }
}

/** "quarter 104" in two: the note value, and the number behind it. */
const UNIT_THEN_NUMBER = /^(.*[^\d.\s=]\.*)\s*(\d[\d.]*)$/

/**
 * `112` is quarters, or whatever `felt` is; `dotted-quarter=80` names the note value, and so do `♩. = 80` and
 * `dotted quarter 80`.
 */
export const parseTempo = (s: string, field = 'tempo', felt: Frac = QUARTER): Result<Tempo> => {
  const [, named = '', number = ''] = UNIT_THEN_NUMBER.exec(s.trim()) ?? []
  const [left, right, more] = parseNoteValue(named).ok ? [named, number] : s.split('=')
  if (left === undefined || more !== undefined) return problem(field, s, ACCEPTED)
  const unit = right === undefined ? ok(felt) : parseNoteValue(left, `${field}, note value`)
  if (!unit.ok) return unit
  const bpm = parseDecimal(right ?? left)
  if (!bpm || compare(bpm, frac(SLOWEST)) < 0 || compare(bpm, frac(FASTEST)) > 0)
    return problem(field, s, ACCEPTED)
  return ok({ unit: unit.value, bpm })
}

/** Quarters a minute: the only way to compare tempos. Dotted quarter = 80 is 120. */
export const quarters = (t: Tempo): Frac => mul(t.bpm, div(t.unit, QUARTER))

/** Below 0, 0 or above 0, as a is slower than, the same as or faster than b. */
export const compareTempo = (a: Tempo, b: Tempo): number =>
  equal(a.unit, b.unit) ? compare(a.bpm, b.bpm) : compare(quarters(a), quarters(b))
export const sameTempo = (a: Tempo, b: Tempo): boolean => compareTempo(a, b) === 0
export const faster = (a: Tempo, b: Tempo): Tempo => (compareTempo(a, b) >= 0 ? a : b)
export const slower = (a: Tempo, b: Tempo): Tempo => (compareTempo(a, b) <= 0 ? a : b)

/** The same tempo counted in another note value: quarter = 120 in dotted quarters is 80. */
export const inUnit = (t: Tempo, unit: Frac): Tempo => ({ unit, bpm: div(mul(t.bpm, t.unit), unit) })

/** Scaled by an exact ratio, in the same note value. */
export const scaleTempo = (t: Tempo, ratio: Frac): Tempo => ({ unit: t.unit, bpm: mul(t.bpm, ratio) })

/**
 * The tempo after a relation over the staff: `before` = `after`, each note `after` lasts as long as each `before` did.
 * Counted in `unit`: 84 dotted quarters, eighth = eighth, is 126 quarters.
 */
export const related = (t: Tempo, before: Frac, after: Frac, unit: Frac = after): Tempo =>
  inUnit({ unit: after, bpm: div(mul(t.bpm, t.unit), before) }, unit)

/** Fine enough for any ladder, and coarse enough that every later product stays exact. */
const FINEST = 10_000

/** Exact where the fraction is not too fine to be kept, else to the nearest 0.01. */
export const tidy = (t: Tempo): Tempo =>
  t.bpm.d <= FINEST ? t : { unit: t.unit, bpm: frac(roundTimes(t.bpm, 100), 100) }

/** a/b, to the nearest millionth where that is too fine to be exact. */
export const ratioOf = (a: Tempo, b: Tempo): Frac => mulNear(quarters(a), div(one, quarters(b)))

/** a/b as a plain number (1 = the same tempo). */
export const tempoRatio = (a: Tempo, b: Tempo): number => toNumber(div(quarters(a), quarters(b)))

/** "112" for quarters, "dotted-quarter=80" else: what `parseTempo` reads. */
export const typed = (t: Tempo): string =>
  compare(t.unit, QUARTER) === 0 ? decimal(t.bpm) : `${noteValueName(t.unit)}=${decimal(t.bpm)}`

/** "quarter = 112" as it stands over a staff. */
export const spoken = (t: Tempo): string =>
  `${noteValueName(t.unit).replaceAll('-', ' ')} = ${decimal(t.bpm)}`

/** A goal as numbers, in its own note value: "116", or "116 to 124" where it is a range. */
export const goalNumbers = (goal: Tempo, top: Tempo | null | undefined): string =>
  decimal(goal.bpm) + (top ? ` to ${decimal(inUnit(top, goal.unit).bpm)}` : '')

/** "quarter = 116 to 124" */
export const spokenGoal = (goal: Tempo, top: Tempo | null | undefined): string =>
  `${noteValueName(goal.unit).replaceAll('-', ' ')} = ${goalNumbers(goal, top)}`

/** "goal quarter = 116 to 124"; of a goal that nobody knows yet where the ladder leads until then. */
export const goalText = (goal: Tempo, top: Tempo | null | undefined, open?: boolean): string =>
  `goal ${goalWords(goal, top, open)}`
export const goalWords = (goal: Tempo, top: Tempo | null | undefined, open = false): string =>
  open ? `open (for now ${spokenGoal(goal, top)})` : spokenGoal(goal, top)

/** A goal as it is typed, in two where it is a range: "quarter=116-124" is "quarter=116" and "quarter=124". */
export const splitGoal = (s: string): { readonly goal: string; readonly top: string | null } => {
  const [, unit = '', low, high] = /^(.*=)?\s*(\d[\d.]*)\s*[-\u2013]\s*(\d[\d.]*)\s*$/.exec(s) ?? []
  return low && high ? { goal: unit + low, top: unit + high } : { goal: s, top: null }
}

/**
 * The traditional tempo scale: 39 marks from 40 to 208 beats a minute, about 4 % apart. Not a standard; a custom.
 * Source: the list in "Metronome 'Scale'", Horn mailing list, University of Memphis, May 2009; checked in
 * tests/outside.
 */
export const MARKS: readonly number[] = [
  40, 42, 44, 46, 48, 50, 52, 54, 56, 58, 60, 63, 66, 69, 72, 76, 80, 84, 88, 92, 96, 100, 104, 108, 112, 116,
  120, 126, 132, 138, 144, 152, 160, 168, 176, 184, 192, 200, 208,
]

const UPPER = MARKS.filter(m => m > 104)

/** The scale carried on for any tempo: steps of 2 below 40; above 208 the marks above 104 doubled, and doubled again. */
export const EXTENDED_MARKS: readonly number[] = [
  ...Array.from({ length: 19 }, (_, i) => 2 + 2 * i),
  ...MARKS,
  ...[2, 4, 8].flatMap(by => UPPER.map(m => m * by)).filter(m => m <= 999),
]

/** Highest mark at or below a number of beats a minute (2 at least). */
export const markAtOrBelow = (bpm: number): number => EXTENDED_MARKS.findLast(m => m <= bpm) ?? 2

/** The mark nearest to a number of beats a minute, by ratio. */
export const nearestMark = (bpm: number): number =>
  EXTENDED_MARKS.reduce(
    (best, m) => (Math.abs(Math.log(m / bpm)) < Math.abs(Math.log(best / bpm)) ? m : best),
    2,
  )
