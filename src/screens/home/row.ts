import type { Tempo } from '../../music/tempo.ts'

/** What has a ladder of its own: a passage, or one of its sections. */
export type LadderRow = {
  readonly id: string
  /** What finds it again: the piece's id, the passage's name, and that of the section. */
  readonly name: string
  /** "run at the weir, m. 41-44"; of a section "section 2, m. 43 to 44.2". */
  readonly place: string
  readonly goal: Tempo
  /** Upper end of a goal that is a range. */
  readonly top?: Tempo
  /** Nobody knows the goal yet: it is where the ladder leads for now. */
  readonly open?: true
  readonly ceiling: Tempo | null
  /** The highest tempo of a clean cold take, and whether such takes at the goal have made it ready. */
  readonly secure: Tempo | null
  readonly ready: boolean
  /** Where the next visit begins; `finding` = it looks for the start from there. Null where no ladder can be made. */
  readonly next: Tempo | null
  readonly finding: boolean
}

/** A passage as the repertoire shows it. */
export type PassageRow = LadderRow & {
  readonly piece: string
  /** "4 measures of 6/8, pick-up eighth" */
  readonly music: string
  /** The player's own words. */
  readonly note: string
  /** "2026-03-28", and the days to it (negative = past); null = no date. */
  readonly readyBy: string | null
  readonly days: number | null
  readonly start: Tempo | null
  /** Neighbors that are ready to be joined, in words, and the name that joins them: absent where there are none. */
  readonly join?: { readonly says: string; readonly name: string }
  /** The small units that it is cut into, in the order of the music. */
  readonly sections: readonly LadderRow[]
}

/**
 * Nearest date first, then those without one, then those whose date is past; the passages of a piece stay together, at
 * the place of its nearest.
 */
export const nearestFirst = (rows: readonly PassageRow[]): readonly PassageRow[] => {
  const rank = (r: PassageRow): number => (r.days === null ? 1 : r.days >= 0 ? 0 : 2)
  const sorted = [...rows].sort((a, b) => rank(a) - rank(b) || Math.abs(a.days ?? 0) - Math.abs(b.days ?? 0))
  const pieces = [...new Set(sorted.map(r => r.piece))]
  return sorted.sort((a, b) => pieces.indexOf(a.piece) - pieces.indexOf(b.piece))
}
