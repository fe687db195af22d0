import type { Onset, Program } from './program.ts'

/** A beat of a program, clicked or not. */
export type Beat = Omit<Onset, 'role'>

const known = new WeakMap<Program, readonly Beat[]>()

/** All beats of a program in order, count-in included; also those that do not click. */
export const beatsOf = (p: Program): readonly Beat[] => {
  const beats =
    known.get(p) ??
    [...p.onsets.filter(o => o.beat > 0 && o.role !== 'sub'), ...(p.unheard ?? [])].sort(
      (a, b) => a.frame - b.frame,
    )
  known.set(p, beats)
  return beats
}
