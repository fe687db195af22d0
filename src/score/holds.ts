import { less, max } from '../music/fraction.ts'
import type { BreathFacts, Local, WrittenMeasure } from './score.ts'

type Written = Local<BreathFacts>
type Hold = { readonly breath: Written; readonly own: boolean }

const overlap = (a: Written, b: Written): boolean => less(a.from, b.at) && less(b.from, a.at)

/**
 * Breaths and holds of one measure of a part. A fermata holds everybody: one that stands in another part holds here
 * too, and fermatas over notes that sound together, in several voices or parts, are one hold, at the end of the part's
 * own note where it has one, else where the last of them ends.
 */
export const breathsOf = (
  own: WrittenMeasure,
  others: readonly WrittenMeasure[],
): { readonly breaths: readonly Written[]; readonly borrowed: boolean } => {
  const fermata = (b: Written) => b.kind === 'fermata'
  const all: Hold[] = [
    ...own.breaths.filter(fermata).map(breath => ({ breath, own: true })),
    ...others.flatMap(m => m.breaths.filter(fermata)).map(breath => ({ breath, own: false })),
  ]
  const groups: Hold[][] = []
  for (const hold of all) {
    const group = groups.find(g => g.some(h => overlap(h.breath, hold.breath)))
    if (group) group.push(hold)
    else groups.push([hold])
  }
  const one = (group: readonly Hold[]): Written => {
    const mine = group.filter(h => h.own)
    const held = (mine.length > 0 ? mine : group).map(h => h.breath)
    return { ...(held[0] as Written), at: held.map(b => b.at).reduce(max) }
  }
  return {
    breaths: [...own.breaths.filter(b => !fermata(b)), ...groups.map(one)],
    borrowed: groups.some(g => g.every(h => !h.own)),
  }
}
