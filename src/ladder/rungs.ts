import { decimal, type Frac, frac, less, parseDecimal, toNumber } from '../music/fraction.ts'
import { ok, problem, type Result } from '../music/result.ts'
import { compareTempo, EXTENDED_MARKS, inUnit, type Tempo, typed } from '../music/tempo.ts'
import { compareHard, type Direction, directionOf } from './direction.ts'

/** How one rung follows another: the traditional scale, a percentage, beats a minute, or a number of rungs in equal ratio. */
export type RungStep =
  | { readonly kind: 'notch' }
  | { readonly kind: 'percent'; readonly by: Frac }
  | { readonly kind: 'fixed'; readonly by: Frac }
  | { readonly kind: 'count'; readonly rungs: number }

/** Two rungs and no more than this many; a finer step than that is not heard as a step. */
export const MOST_RUNGS = 200
const FEWEST_RUNGS = 2
/** Steps of 0.5 % from the slowest tempo that can be typed to the fastest are fewer than this. */
const MOST_STEPS = 4000

const ACCEPTED = 'notch, a percentage like 4% (0.5% to 50%) or beats a minute like +4 (+0.5 to +100)'

/** "notch", "4%", "+4". */
export const parseStep = (s: string, field = 'step'): Result<RungStep> => {
  const text = s.trim()
  if (text === 'notch') return ok({ kind: 'notch' })
  const percent = text.endsWith('%')
  const by = percent
    ? parseDecimal(text.slice(0, -1))
    : text.startsWith('+')
      ? parseDecimal(text.slice(1))
      : null
  if (!by || toNumber(by) < 0.5 || toNumber(by) > (percent ? 50 : 100)) return problem(field, s, ACCEPTED)
  return ok(percent ? { kind: 'percent', by } : { kind: 'fixed', by })
}

export const stepText = (s: RungStep): string =>
  s.kind === 'notch'
    ? 'notch'
    : s.kind === 'percent'
      ? `${decimal(s.by)}%`
      : s.kind === 'fixed'
        ? `+${decimal(s.by)}`
        : `${s.rungs} rungs`

/** A computed number of beats a minute, rounded to 0.01. */
const hundredth = (x: number): Frac => frac(Math.round(x * 100), 100)

const NOTCHES = EXTENDED_MARKS.map(m => frac(m))

/** What may stand between two tempos, in beats of the goal's note value. */
const between = (a: number, b: number, step: RungStep): readonly Frac[] => {
  if (step.kind === 'notch') return NOTCHES
  if (step.kind === 'count') {
    const n = step.rungs - 1
    return Array.from({ length: n - 1 }, (_, i) => hundredth(a * (b / a) ** ((i + 1) / n)))
  }
  const by = toNumber(step.by)
  const next = (x: number) => (step.kind === 'percent' ? x * (1 + by / 100) : x + by)
  const out: Frac[] = []
  for (let x = next(a); x < b && out.length < MOST_STEPS; x = next(x)) out.push(hundredth(x))
  return out
}

/** Half a step: nearer to start or goal than this, a mark or computed rung is left out; of a number of rungs none is. */
const tooNear = (x: number, end: number, step: RungStep): boolean => {
  if (step.kind === 'fixed') return Math.abs(x - end) < toNumber(step.by) / 2
  // The smallest step of the traditional scale is 2 in 58 (3.45 %); half of it, and of a percentage, is the limit.
  const half = step.kind === 'notch' ? 1 / 58 : step.kind === 'percent' ? toNumber(step.by) / 200 : 0
  return Math.abs(x / end - 1) < half
}

/**
 * All rungs from start to goal, both included and exact, counted in the goal's note value.
 * The goal is refused when slower than the start (faster, where the ladder leads down); equal ends make one rung.
 */
export const rungs = (
  start: Tempo,
  goal: Tempo,
  step: RungStep,
  direction: Direction = 'up',
): Result<readonly Tempo[]> => {
  if (direction === 'down') return descending(start, goal, step)
  if (compareTempo(start, goal) > 0)
    return problem(
      'goal tempo',
      typed(goal),
      `a tempo at or above the start (${typed(start)}), or --down to lead down to it`,
    )
  const first = inUnit(start, goal.unit)
  if (
    step.kind === 'count' &&
    (!Number.isInteger(step.rungs) || step.rungs < FEWEST_RUNGS || step.rungs > MOST_RUNGS)
  )
    return problem(
      'number of rungs',
      String(step.rungs),
      `a whole number from ${FEWEST_RUNGS} to ${MOST_RUNGS}`,
    )
  const [a, b] = [toNumber(first.bpm), toNumber(goal.bpm)]
  // Rounding may carry a computed rung onto an end or past it.
  const inner = between(a, b, step).filter(
    x =>
      less(first.bpm, x) &&
      less(x, goal.bpm) &&
      !tooNear(toNumber(x), a, step) &&
      !tooNear(toNumber(x), b, step),
  )
  const all = [first, ...inner.map(bpm => ({ unit: goal.unit, bpm })), goal]
  const apart = all.filter((t, i) => i === 0 || compareTempo(t, all[i - 1] as Tempo) > 0)
  if (apart.length > MOST_RUNGS)
    return problem('step', stepText(step), `a step that makes at most ${MOST_RUNGS} rungs`)
  return ok(apart)
}

/** The rungs from the goal up to the start, walked the other way. */
const descending = (start: Tempo, goal: Tempo, step: RungStep): Result<readonly Tempo[]> => {
  if (compareTempo(start, goal) < 0)
    return problem(
      'goal tempo',
      typed(goal),
      `a tempo at or below the start (${typed(start)}), since the ladder leads down`,
    )
  const all = rungs(goal, inUnit(start, goal.unit), step)
  return all.ok ? ok([...all.value].reverse()) : all
}

/**
 * The rungs of a visit that begins at index `from` with a ceiling reached before: up to the ceiling every second rung
 * is passed over (it was played already), then one by one. The ceiling's own rung stays.
 */
export const twoUpTo = (all: readonly Tempo[], from: number, ceiling: Tempo | null): readonly Tempo[] => {
  if (!ceiling) return all
  const last = rungAtOrBelow(all, ceiling)
  return all.filter((_, i) => i <= from || i >= last || (i - from) % 2 === 0)
}

/** Index of the hardest rung not harder than a tempo; 0 when all are. */
export const rungAtOrBelow = (all: readonly Tempo[], limit: Tempo): number =>
  Math.max(
    0,
    all.findLastIndex(t => compareHard(t, limit, directionOf(all)) <= 0),
  )
