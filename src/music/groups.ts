import { type Form, type Measure, measures } from './form.ts'
import {
  add,
  compare,
  equal,
  type Frac,
  fractionText,
  less,
  min,
  sub,
  times,
  wholeTimes,
  zero,
} from './fraction.ts'
import { groupStarts, measureLength } from './meter.ts'
import { displaced, type Rhythm, stretchedForm } from './rhythm.ts'

/**
 * A note as it sounds, in whole notes from the form's first note: notes tied together are one. `held`: it began before
 * the form does.
 */
export type Note = { readonly at: Frac; readonly length: Frac; readonly held?: true }

/** Notes that begin together are one onset; the shortest counts, since it is what runs on (over a held double stop). */
export const onsetsOf = (notes: readonly Note[]): readonly Note[] => {
  const rank = (n: Note): number => (n.held ? 1 : 0)
  const sorted = [...notes].sort(
    (a, b) => compare(a.at, b.at) || rank(a) - rank(b) || compare(a.length, b.length),
  )
  return sorted.filter((n, i) => i === 0 || !equal(n.at, (sorted[i - 1] as Note).at))
}

/** The notes from one position to another. One that sounds over the beginning begins there, for there it is played. */
export const cutNotes = (notes: readonly Note[], from: Frac, to: Frac): readonly Note[] =>
  notes.flatMap((n): Note[] => {
    const end = add(n.at, n.length)
    if (compare(n.at, to) >= 0 || compare(end, from) <= 0) return []
    return less(n.at, from)
      ? [{ at: zero, length: sub(end, from), held: true }]
      : [{ ...n, at: sub(n.at, from) }]
  })

/**
 * Where groups of a length may stand in a measure: they fill a beat of its meter, or, longer than the beats of an
 * ungrouped meter, the measure. A beat that they do not fill has none.
 */
const seats = (m: Measure, group: Frac): readonly Frac[] => {
  const filled = (from: Frac, length: Frac): readonly Frac[] =>
    Array.from({ length: wholeTimes(length, group) ?? 0 }, (_, i) => add(from, times(group, i)))
  const { groups, unit } = m.meter
  const inBeats = groupStarts(m.meter).flatMap((at, i) =>
    filled(add(m.barline, at), times(unit, groups[i] ?? 1)),
  )
  const longer = groups.every(g => g === 1) && less(unit, group)
  const all = longer ? filled(m.barline, measureLength(m.meter)) : inBeats
  return all.filter(at => compare(m.from, at) <= 0 && compare(add(at, group), m.to) <= 0)
}

/** A group of equal notes; `measure` is the index of the measure in which it stands. */
export type Group = { readonly from: Frac; readonly to: Frac; readonly measure: number }

/**
 * The groups of `n` equal notes of a length that stand where beats group them: one note after another without rest, tie
 * or another note between, inside one measure.
 */
export const groupsOf = (f: Form, notes: readonly Note[], length: Frac, n: number): readonly Group[] => {
  const all = onsetsOf(notes)
  const places = new Map(all.map((note, i) => [fractionText(note.at), i]))
  const group = times(length, n)
  const stands = (from: Frac): boolean => {
    const first = places.get(fractionText(from))
    if (first === undefined) return false
    return Array.from({ length: n }, (_, i) => all[first + i]).every(
      (note, i) =>
        note && !note.held && equal(note.length, length) && equal(note.at, add(from, times(length, i))),
    )
  }
  return measures(f).flatMap((m, measure) =>
    seats(m, group)
      .filter(stands)
      .map(from => ({ from, to: add(from, group), measure })),
  )
}

/** How many notes a rhythm may have. */
const MOST = 12

const lengthsOf = (notes: readonly Note[]): readonly Frac[] => {
  const all = new Map(notes.map(n => [fractionText(n.length), n.length]))
  return [...all.values()].sort(compare)
}

/** Which groups there are: of each note value the numbers of notes, the shortest value first. */
export const groupSizes = (
  f: Form,
  notes: readonly Note[],
): readonly { readonly length: Frac; readonly sizes: readonly number[] }[] =>
  lengthsOf(notes).flatMap(length => {
    const sizes = Array.from({ length: MOST - 1 }, (_, i) => i + 2).filter(
      n => groupsOf(f, notes, length, n).length > 0,
    )
    return sizes.length > 0 ? [{ length, sizes }] : []
  })

/** What a rhythm makes of the notes of a form. */
export type Altered = {
  readonly form: Form
  /** Where each note then begins, in that form. */
  readonly onsets: readonly Frac[]
  readonly length: Frac
  readonly groups: readonly Group[]
  /** Measures with notes of which none is altered, by index. */
  readonly asWritten: readonly number[]
}

/**
 * The notes in a rhythm: each group of equal notes is altered inside its own length, all others stay as written, in a
 * rhythm that stretches (5:1:1:1/2) so many times slower, with everything else. `length` = the note value that is altered;
 * where nobody says, the one that stands in the most such groups, the shorter of two. Null where there is no group.
 */
export const alteredNotes = (
  f: Form,
  notes: readonly Note[],
  r: Rhythm,
  length: Frac | null,
): Altered | null => {
  const n = r.ratios.length
  const [found] = (length ? [length] : lengthsOf(notes))
    .map(value => ({ value, groups: groupsOf(f, notes, value, n) }))
    .sort((a, b) => b.groups.length - a.groups.length)
  if (!found || found.groups.length === 0) return null
  const { value, groups } = found
  const inside = (at: Frac): Group | undefined =>
    groups.findLast(g => compare(g.from, at) <= 0 && less(at, g.to))
  const moved = (at: Frac): Frac => {
    const g = inside(at)
    return g ? add(times(g.from, r.over), displaced(r, value, sub(at, g.from))) : times(at, r.over)
  }
  const all = onsetsOf(notes).map(note => note.at)
  const touched = new Set(groups.map(g => g.measure))
  return {
    form: stretchedForm(f, r, at => min(moved(at), times(f.length, r.over))),
    onsets: all.map(moved),
    length: value,
    groups,
    asWritten: measures(f).flatMap((m, i) => {
      const holds = all.some(at => compare(m.from, at) <= 0 && less(at, m.to))
      return holds && !touched.has(i) ? [i] : []
    }),
  }
}

/** Whole measures of rest in a row: number of the first one in the form, and how many. */
export type LongRest = { readonly first: number; readonly measures: number }

/** From so many measures on a rest is counted. Common practice, no source. */
const LONG = 2

/** The rests of two measures and more: whole measures in which none of the notes begins or still sounds. */
export const longRests = (
  form: Form,
  notes: readonly { readonly at: Frac; readonly length: Frac }[],
): readonly LongRest[] => {
  const out: { first: number; measures: number }[] = []
  for (const m of measures(form)) {
    if (m.number < 1 || notes.some(n => less(n.at, m.to) && compare(add(n.at, n.length), m.from) > 0))
      continue
    const last = out.at(-1)
    if (last && last.first + last.measures === m.number) last.measures++
    else out.push({ first: m.number, measures: 1 })
  }
  return out.filter(r => r.measures >= LONG)
}

/** "rest 2 of 4" in a measure of the form, else empty. */
export const restWords = (rests: readonly LongRest[], measure: number): string => {
  const rest = rests.find(r => measure >= r.first && measure < r.first + r.measures)
  return rest ? `rest ${measure - rest.first + 1} of ${rest.measures}` : ''
}
