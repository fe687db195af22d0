import type { Form } from './form.ts'
import { decimal, equal, type Frac, frac, less, mul, toNumber, zero } from './fraction.ts'
import { ok, problem, type Result } from './result.ts'
import { inUnit, quarters, type Tempo } from './tempo.ts'

/** Below this share of the goal, tempo changes are left out: the notes come first. Common practice, no source. */
const CHANGES_FROM = frac(4, 5)

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
export const playedForm = (f: Form, at: Tempo, goal: Tempo): Form =>
  less(quarters(at), mul(quarters(goal), changesFrom(f))) ? steadyForm(f) : f

/** The share of the goal from which the tempo changes of a form are played. */
export const changesFrom = (f: Form): Frac => f.changesFrom ?? CHANGES_FROM

/** "always", or a share of the goal: "60%". */
export const parseChangesFrom = (text: string, field = 'tempo changes'): Result<Frac> => {
  const share = /^(\d{1,3}) ?%$/.exec(text.trim())?.[1]
  if (text.trim().toLowerCase() === 'always') return ok(zero)
  return share && Number(share) > 0 && Number(share) <= 100
    ? ok(frac(Number(share), 100))
    : problem(field, text, 'always, or a share of the goal from 1% to 100%, like 60%')
}

export const changesFromText = (share: Frac): string =>
  toNumber(share) === 0 ? 'always' : `${decimal(mul(share, frac(100)))}%`
