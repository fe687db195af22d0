import { FAMILIES, type Family, HELD_BACK, heads } from './plan/heads.ts'
import { asPlanned } from './plan/planned.ts'
import {
  byTheGap,
  cheapestFirst,
  equalMinutes,
  oneAfterAnother,
  type Rule,
  totalsKnown,
} from './plan/rules.ts'
import { type Measured, measured, newWeek } from './plan/week.ts'

export { FAMILIES, HELD_BACK }

/** Days, minutes a day, passages. */
export const CELLS = [
  [7, 30, 4],
  [7, 45, 6],
  [7, 60, 4],
  [10, 45, 4],
  [10, 60, 8],
] as const

export const RULES: Readonly<Record<string, Rule>> = {
  'the plan': asPlanned(),
  'one passage after another': oneAfterAnother,
  'equal minutes every day': equalMinutes,
  'minutes by the gap': byTheGap,
  'cheapest first': cheapestFirst(false),
  'cheapest first, each every third day': cheapestFirst(true),
  'totals known beforehand': totalsKnown,
}

/** What comes of a rule for so many players, each with the same chances for each rule. */
export const played = (
  rule: string,
  cell: readonly [number, number, number],
  family: Family,
  players: number,
  seed: number,
): readonly Measured[] =>
  Array.from({ length: players }, (_, i) => {
    const [days, minutes, passages] = cell
    const w = newWeek(heads(i, seed, passages, family), days, minutes, luck =>
      heads(i, seed, passages, family, luck),
    )
    ;(RULES[rule] as Rule)(w)
    return measured(w)
  })
