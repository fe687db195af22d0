import type { Tempo } from '../../music/tempo.ts'

/** A passage as the repertoire shows it. */
export type Row = {
  /** Id of the passage. */
  readonly id: string
  /** What finds it again: the piece's id and the passage's name. */
  readonly name: string
  readonly piece: string
  /** "run at the weir, m. 41-44" */
  readonly place: string
  /** "4 measures of 6/8, pick-up eighth" */
  readonly music: string
  /** The player's own words. */
  readonly note: string
  /** "2026-03-28", and the days to it (negative = past); null = no date. */
  readonly readyBy: string | null
  readonly days: number | null
  readonly goal: Tempo
  readonly start: Tempo | null
  readonly ceiling: Tempo | null
  /** The highest tempo of a clean cold take, and whether such takes at the goal have made it ready. */
  readonly secure: Tempo | null
  readonly ready: boolean
  /** Where the next visit begins; `finding` = it looks for the start from there. Null where no ladder can be made. */
  readonly next: Tempo | null
  readonly finding: boolean
}

/** Nearest date first, then those without one, then those whose date is past. */
export const nearestFirst = (rows: readonly Row[]): readonly Row[] => {
  const rank = (r: Row): number => (r.days === null ? 1 : r.days >= 0 ? 0 : 2)
  return [...rows].sort((a, b) => rank(a) - rank(b) || Math.abs(a.days ?? 0) - Math.abs(b.days ?? 0))
}
