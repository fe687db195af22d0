import type { Form } from './form.ts'
import { equal, type Frac, frac, less, mul } from './fraction.ts'
import { inUnit, quarters, type Tempo } from './tempo.ts'

/** Below this share of the goal, tempo changes are left out: the notes come first. Common practice, no source. */
export const CHANGES_FROM = frac(4, 5)

/** The form at one steady tempo, that of its first mark; each stretch is still counted in its own note value. */
export const steadyForm = (f: Form): Form => {
  const first = f.marks[0]
  if (!first) return f
  const marks = f.marks
    .filter(m => less(m.at, f.length))
    .map(m => ({ at: m.at, tempo: inUnit(first.tempo, m.tempo.unit) }))
  return {
    ...f,
    marks: marks.filter((m, i) => i === 0 || !equal(m.tempo.unit, (marks[i - 1] as typeof m).tempo.unit)),
  }
}

/** The form as it is played with its first mark at a tempo: its tempo changes only from a share of the goal on. */
export const playedForm = (f: Form, at: Tempo, goal: Tempo, share: Frac = CHANGES_FROM): Form =>
  less(quarters(at), mul(quarters(goal), share)) ? steadyForm(f) : f
