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

/** What a passage is climbed by, and its cold takes at the ceiling, those of its sections among them. */
export type Climbed = { readonly passage: string; readonly up: Up; readonly takes: readonly ColdTake[] }

/**
 * The first passage whose own takes speak for another rule, by itself: what one passage holds says nothing of another.
 * `told` = whether that was said of it before; then it is not said again.
 */
export const passageAdvice = (
  all: readonly Climbed[],
  told: (passage: string, n: number) => boolean,
): { readonly passage: string; readonly n: number } | null => {
  const advice = all.flatMap(({ passage, up, takes }) => {
    const n = rowAdvice(takes, up)
    return n === null || told(passage, n) ? [] : [{ passage, n }]
  })
  return advice[0] ?? null
}
