import { type Form, measures, meterAt } from './form.ts'
import {
  add,
  compare,
  decimal,
  div,
  type Frac,
  floor,
  frac,
  min,
  mul,
  roundTimes,
  sub,
  times,
  wholeTimes,
  zero,
} from './fraction.ts'
import { type Meter, measureLength } from './meter.ts'
import { ok, problem, type Result } from './result.ts'
import { scaleTempo, type Tempo, tidy } from './tempo.ts'

/**
 * How a group of equal notes is played instead: "3:1" is long-short. `over` is the time the group takes, in groups: 1
 * keeps its length; "5:1:1:1/2" holds the first note of four by as long as the four last, and so takes two.
 */
export type Rhythm = {
  readonly name: string
  readonly words: string
  readonly ratios: readonly number[]
  readonly over: number
}

const MOST_NOTES = 12
const MOST = 16
const ACCEPTED = `2 to ${MOST_NOTES} lengths from 1 to ${MOST} that differ, like 3:1, or held over more groups, like 5:1:1:1/2`

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b))
const total = (ratios: readonly number[]): number => ratios.reduce((a, b) => a + b, 0)

/** "3:1", "1:1:1:3", "5:1:1:1/2". Its own text is its name and its words. */
export const parseRhythm = (s: string, field = 'rhythm'): Result<Rhythm> => {
  const m = /^(\d{1,2}(?::\d{1,2})+)(?:\/([1-4]))?$/.exec(s.trim())
  const typed = (m?.[1] ?? '').split(':').map(Number)
  const equal = typed.every(r => r === typed[0])
  if (!m || typed.length > MOST_NOTES || equal || typed.some(r => r < 1 || r > MOST))
    return problem(field, s, ACCEPTED)
  const by = typed.reduce(gcd)
  const rhythm = { ratios: typed.map(r => r / by), over: Number(m[2] ?? 1) }
  return ok({ name: rhythmText(rhythm), words: rhythmText(rhythm), ...rhythm })
}

/** "3:1", "5:1:1:1/2": what `parseRhythm` reads, and what a ceiling's key holds. */
export const rhythmText = (r: Pick<Rhythm, 'ratios' | 'over'>): string =>
  r.ratios.join(':') + (r.over > 1 ? `/${r.over}` : '')

/**
 * How much faster the quick notes run than even ones at the same click: S/(n m), by the time the group takes; S = sum,
 * n = number of notes, m = the shortest.
 */
export const quickness = (r: Rhythm): Frac =>
  frac(total(r.ratios), r.ratios.length * Math.min(...r.ratios) * r.over)

/** The click at which the quick notes run as even ones do at a tempo; not finer than a ladder can keep. */
export const clickFor = (even: Tempo, r: Rhythm): Tempo => tidy(scaleTempo(even, div(frac(1), quickness(r))))

/** The even tempo whose notes run as the quick ones do at a click. */
export const quickAt = (click: Tempo, r: Rhythm): Tempo => scaleTempo(click, quickness(r))

/** "click 56, quick notes as at 112"; the second number to a tenth. */
export const quickNotesWords = (click: Tempo, r: Rhythm): string => {
  const quick = frac(roundTimes(quickAt(click, r).bpm, 10), 10)
  return `click ${decimal(click.bpm)}, quick notes as at ${decimal(quick)}`
}

/** The form of the part again, without its marks: what `alteredForm` stretched by `over`. */
export const writtenForm = (f: Form, over: number): Form => {
  if (over === 1) return f
  const sooner = (at: Frac): Frac => div(at, frac(over))
  return {
    meters: f.meters.map(({ at, meter }) => ({
      at: sooner(at),
      meter: { unit: meter.unit, groups: meter.groups.filter((_, i) => i % over === 0) },
    })),
    marks: f.marks.map(m => ({ ...m, at: sooner(m.at) })),
    pickup: sooner(f.pickup),
    length: sooner(f.length),
  }
}

/** For the guide voice: the ratios, and how long the group then lasts, when the notes run in `run` (a 16th, 1/12 ...). */
export const guideOf = (
  r: Rhythm,
  run: Frac,
): { readonly ratios: readonly number[]; readonly group: Frac } => ({
  ratios: r.ratios,
  group: times(run, r.ratios.length * r.over),
})

/** Whether groups of the running note fill each beat of a meter, or, where beats are not grouped, at least each measure. */
export const suits = (r: Rhythm, run: Frac, m: Meter): boolean => {
  const group = times(run, r.ratios.length)
  const fills = (length: Frac): boolean => wholeTimes(length, group) !== null
  return (
    m.groups.every(g => fills(times(m.unit, g))) || (m.groups.every(g => g === 1) && fills(measureLength(m)))
  )
}

/** Where a place between even notes comes to lie in the rhythm: whole notes from the bar line, before and after. */
export const displaced = (r: Rhythm, run: Frac, at: Frac): Frac => {
  const notes = div(at, run)
  const n = r.ratios.length
  const groups = Math.floor(floor(notes) / n)
  const note = floor(notes) - groups * n
  const part = sub(notes, frac(floor(notes)))
  const before = frac(total(r.ratios.slice(0, note)))
  const into = add(before, times(part, r.ratios[note] ?? 0))
  const group = guideOf(r, run).group
  return add(times(group, groups), mul(group, div(into, frac(total(r.ratios)))))
}

/**
 * The form in which a rhythm is played. Where its groups take more time, each beat becomes `over` beats at the same
 * click, so that every note keeps its place in the beat; the count-in stays that of the part. `moved` says where a
 * place between two notes comes to lie: breaths stay between their notes.
 */
export const stretchedForm = (f: Form, r: Rhythm, moved: (at: Frac) => Frac): Form => {
  const later = (at: Frac): Frac => times(at, r.over)
  const longer = (m: Meter): Meter => ({ unit: m.unit, groups: m.groups.flatMap(g => Array(r.over).fill(g)) })
  return {
    meters: f.meters.map(m => ({ at: later(m.at), meter: longer(m.meter) })),
    marks: f.marks.map(m => ({ ...m, at: later(m.at) })),
    pickup: later(f.pickup),
    length: later(f.length),
    ...(f.breaths
      ? {
          breaths: f.breaths.map(b => ({
            ...b,
            at: moved(b.at),
            ...(b.note ? { note: sub(moved(b.at), moved(sub(b.at, b.note))) } : {}),
          })),
        }
      : {}),
    ...(r.over > 1 ? { counted: f.counted ?? meterAt(f, zero) } : {}),
  }
}

/** The form in which a rhythm is played over notes that run in `run` from beginning to end. */
export const alteredForm = (f: Form, r: Rhythm, run: Frac): Form => {
  const bars = measures(f)
  const later = (at: Frac): Frac => times(at, r.over)
  return stretchedForm(f, r, at => {
    const m = bars.findLast(b => compare(b.from, at) <= 0)
    return m ? min(add(later(m.barline), displaced(r, run, sub(at, m.barline))), later(m.to)) : at
  })
}
