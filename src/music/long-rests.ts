import { type Form, measures } from './form.ts'
import { add, compare, type Frac, less } from './fraction.ts'

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
