/** What the scripted player counts for himself, from what he heard and did; nothing here is the program's. */

/** `tempo` in beats of the goal's note value, as the program said it before the repetition. */
export type Rep = {
  readonly tempo: number
  readonly clean: boolean
  /** He stopped in the middle. */
  readonly stopped: boolean
  /** The program was still looking for the start. */
  readonly finding: boolean
  /** When the verdict was said to be understood, milliseconds since 1970. */
  readonly at: number
}

/** `goal` = the last rung then; `row` = how many in a row complete a rung. */
export type Sitting = {
  readonly name: string
  /** The program's key of it. */
  readonly key: string
  readonly kind: 'section' | 'join' | 'seam' | 'cold' | 'single'
  readonly day: string
  /** Which machine it was. */
  readonly on: string
  readonly goal: number
  readonly row: number
  readonly reps: readonly Rep[]
  /** From the first count-in to the last press, seconds. */
  readonly seconds: number
}

/** Five in a row on the last rung. */
const TOP = 5

/** The rungs that were completed: so many clean ones in a row at one tempo. */
const completed = (s: Pick<Sitting, 'goal' | 'row' | 'reps'>): readonly number[] => {
  const out: number[] = []
  let [row, at] = [0, Number.NaN]
  for (const r of s.reps) {
    if (r.tempo !== at) [row, at] = [0, r.tempo]
    if (r.finding) continue
    row = r.clean ? row + 1 : 0
    if (row < (at === s.goal ? TOP : s.row)) continue
    out.push(at)
    row = 0
  }
  return out
}

const highest = (all: readonly number[]): number | null => (all.length === 0 ? null : Math.max(...all))

export const ceilingOf = (sittings: readonly Sitting[]): number | null => highest(sittings.flatMap(completed))

/** Days on which it was judged, each with what was completed on it. */
export const daysOf = (
  sittings: readonly Sitting[],
): readonly { readonly day: string; readonly best: number | null }[] =>
  [...new Set(sittings.filter(s => s.reps.length > 0).map(s => s.day))]
    .sort()
    .map(day => ({ day, best: ceilingOf(sittings.filter(s => s.day === day)) }))

export const verdicts = (sittings: readonly Sitting[]): { clean: number; verdicts: number } => {
  const all = sittings.flatMap(s => s.reps)
  return { clean: all.filter(r => r.clean).length, verdicts: all.length }
}
