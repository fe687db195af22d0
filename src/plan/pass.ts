import { compareHard, directionOf } from '../ladder/direction.ts'
import type { Rules } from '../ladder/rules.ts'
import type { Tempo } from '../music/tempo.ts'

/** What the rung asks for when all of it is clean. */
const repetitions = (rules: Rules, last: boolean): number => (last ? rules.top : rules.up.n)

/**
 * Minutes until the ceiling is passed, all clean: every rung from the one on which the visit begins to the first one
 * above the ceiling, that one included. `seconds` = one repetition with count-in and rest. Null where there is no
 * ceiling to pass, or none above it.
 */
export const minutesToPass = (o: {
  readonly rungs: readonly Tempo[]
  readonly at: number
  readonly ceiling: Tempo | null
  readonly rules: Rules
  readonly seconds: number
}): number | null => {
  const { ceiling, rungs, at } = o
  const beyond = ceiling ? rungs.findIndex(r => compareHard(r, ceiling, directionOf(rungs)) > 0) : -1
  if (beyond < at) return null
  const counts = rungs.slice(at, beyond + 1).map((_, i) => repetitions(o.rules, at + i === rungs.length - 1))
  return (counts.reduce((a, b) => a + b, 0) * o.seconds) / 60
}

/** "about 4 min" */
export const aboutMinutes = (minutes: number): string => `about ${Math.max(1, Math.round(minutes))} min`
