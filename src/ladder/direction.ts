import { compareTempo, type Tempo, tempoRatio } from '../music/tempo.ts'

/** Where a ladder leads: up to a fast goal, or down to a slow one (long phrases, slow bows), where slower is harder. */
export type Direction = 'up' | 'down'

export const directionOf = (rungs: readonly Tempo[]): Direction => {
  const [first, last] = [rungs[0], rungs.at(-1)]
  return first && last && compareTempo(first, last) > 0 ? 'down' : 'up'
}

/** Below 0, 0 or above 0, as a is easier than, the same as or harder than b. */
export const compareHard = (a: Tempo, b: Tempo, d: Direction): number =>
  d === 'up' ? compareTempo(a, b) : compareTempo(b, a)

/** How much of the goal a tempo is: 1 at the goal, less where it is easier, whichever way the ladder leads. */
export const shareOfGoal = (t: Tempo, goal: Tempo, d: Direction = 'up'): number =>
  d === 'up' ? tempoRatio(t, goal) : tempoRatio(goal, t)

export const harder = (a: Tempo, b: Tempo, d: Direction): Tempo => (compareHard(a, b, d) >= 0 ? a : b)
export const easier = (a: Tempo, b: Tempo, d: Direction): Tempo => (compareHard(a, b, d) <= 0 ? a : b)
