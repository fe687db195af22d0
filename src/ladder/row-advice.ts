import type { Tempo } from '../music/tempo.ts'
import { compareHard, type Direction } from './direction.ts'
import type { ColdTake } from './ready.ts'
import type { Up } from './rules.ts'

/** From so many cold takes at the ceiling on they say something about the rule. Choices. */
const ENOUGH = 6
const OFTEN = 1 / 2
const NEARLY_ALWAYS = 0.9
const MORE = 4
const FEWER = 2

/** Cold takes at the ceiling or beyond it. */
export const atCeiling = (
  takes: readonly ColdTake[],
  ceiling: Tempo | null,
  d: Direction = 'up',
): readonly ColdTake[] => (ceiling ? takes.filter(t => compareHard(t.tempo, ceiling, d) >= 0) : [])

/**
 * How many clean in a row would suit the player better than the rule in force: four where more than half of the cold takes
 * at the ceiling fail, two where at least nine in ten are clean; null = too few takes, no reason, or another kind of rule.
 */
export const rowAdvice = (takes: readonly ColdTake[], up: Up): number | null => {
  if (up.kind !== 'row' || takes.length < ENOUGH) return null
  const clean = takes.filter(t => t.clean).length
  if (takes.length - clean > takes.length * OFTEN) return up.n < MORE ? MORE : null
  return clean >= takes.length * NEARLY_ALWAYS && up.n > FEWER ? FEWER : null
}
