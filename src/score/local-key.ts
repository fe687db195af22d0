import type { NoteFacts, Part, Pitch, Placed } from './score.ts'

/** Measures before that tell which key is in force. */
const BEFORE = 4
/** So many notes of a step, and this share of them, make an alteration the usual one there. */
const ENOUGH = 3
const MOST = 0.6

type Counts = ReadonlyMap<number, number>

/**
 * Whether a note stands outside of the key that is in force where it stands: what is altered against the signature, but
 * not where it was altered in the measures before (a stretch in another key, a leading note that comes again and
 * again); and what the signature says where it was altered before.
 */
export const outsideKey = (part: Part): ((n: Placed<NoteFacts>) => boolean) => {
  const counts = new Map<string, Map<number, number>>()
  const keyOf = (measure: number, step: Pitch['step']) => `${measure} ${step}`
  for (const { pitch, measure, continued } of part.notes) {
    if (!pitch || continued) continue
    const key = keyOf(measure, pitch.step)
    const of = counts.get(key) ?? new Map<number, number>()
    counts.set(key, of.set(pitch.alter, (of.get(pitch.alter) ?? 0) + 1))
  }
  let begun = 0
  const signatures = part.measures.map(m => {
    if (m.key !== null) begun = m.index
    return begun
  })
  const signature = (measure: number): number => signatures[measure] ?? 0
  const around = new Map<string, Counts>()
  const near = (measure: number, step: Pitch['step']): Counts => {
    const key = keyOf(measure, step)
    const known = around.get(key)
    if (known) return known
    const sum = new Map<number, number>()
    // a new signature begins anew
    for (let m = Math.max(measure - BEFORE, signature(measure)); m < measure; m++)
      for (const [alter, n] of counts.get(keyOf(m, step)) ?? []) sum.set(alter, (sum.get(alter) ?? 0) + n)
    around.set(key, sum)
    return sum
  }
  return ({ pitch, measure, foreign }) => {
    if (!pitch) return false
    const of = near(measure, pitch.step)
    const all = [...of.values()].reduce((a, b) => a + b, 0)
    const [usual, count] = [...of].sort((a, b) => b[1] - a[1])[0] ?? [pitch.alter, 0]
    const known = all >= ENOUGH && count / all >= MOST
    return known ? pitch.alter !== usual : foreign
  }
}
