import type { NoteFacts, Part, Pitch, Placed } from './score.ts'

/** Measures before that tell which key is in force. */
const BEFORE = 4
/** So many notes of a step, and this share of them, make an alteration the usual one there. */
const ENOUGH = 3
const MOST = 0.6

/** The alteration that is the usual one; null where the signature says it. */
type Usual = number | null
/** By the step of the scale, of one measure. */
type Steps<T> = { [step in Pitch['step']]?: T }

/**
 * Whether a note stands outside of the key that is in force where it stands: what is altered against the signature, but
 * not where it was altered in the measures before (a stretch in another key, a leading note that comes again and
 * again); and what the signature says where it was altered before.
 */
export const outsideKey = (part: Part): ((n: Placed<NoteFacts>) => boolean) => {
  const counts = part.measures.map((): Steps<Map<number, number>> => ({}))
  for (const { pitch, measure, continued } of part.notes) {
    const steps = counts[measure]
    if (!pitch || continued || !steps) continue
    const of = steps[pitch.step] ?? new Map<number, number>()
    steps[pitch.step] = of.set(pitch.alter, (of.get(pitch.alter) ?? 0) + 1)
  }
  let begun = 0
  const signatures = part.measures.map(m => {
    if (m.key !== null) begun = m.index
    return begun
  })
  const around = part.measures.map((): Steps<Usual> => ({}))
  const usualAt = (measure: number, step: Pitch['step']): Usual => {
    const here = around[measure] as Steps<Usual>
    const known = here[step]
    if (known !== undefined) return known
    const sum = new Map<number, number>()
    // a new signature begins anew
    for (let m = Math.max(measure - BEFORE, signatures[measure] as number); m < measure; m++)
      for (const [alter, n] of counts[m]?.[step] ?? []) sum.set(alter, (sum.get(alter) ?? 0) + n)
    const all = [...sum.values()].reduce((a, b) => a + b, 0)
    const [most] = [...sum].find(([, n]) => n / all >= MOST) ?? []
    const usual = all >= ENOUGH && most !== undefined ? most : null
    here[step] = usual
    return usual
  }
  return ({ pitch, measure, foreign }) => {
    if (!pitch) return false
    const usual = usualAt(measure, pitch.step)
    return usual === null ? foreign : pitch.alter !== usual
  }
}
