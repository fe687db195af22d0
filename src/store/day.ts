/** Until this hour of the night a player's day goes on. */
const CUT = 4

/**
 * The player's local day ("2026-03-14") on which a moment falls: days are cut at 4:00.
 * `time` is ISO UTC or milliseconds since 1970; `offset` is minutes east of UTC.
 */
export const localDay = (time: string | number, offset: number): string =>
  new Date(new Date(time).getTime() + (offset - CUT * 60) * 60_000).toISOString().slice(0, 10)
