import type { Setup, Sounding } from './session.ts'

/** Seconds of rest after a clean repetition, and after one that was not; between short ones never less than a breath. */
export const REST = { clean: 2, slip: 4 } as const
const BREATH = 1

/**
 * Seconds between a verdict and the count-in: as usual, but no longer than half the music takes, the count-in after a clean
 * one among it. With `asLong` as long as the whole repetition that was played, silence
 * and count-in together: the lip recovers. Common practice among brass players, no source.
 */
export const restAfter = (
  { rest, rate }: Setup,
  take: Sounding | null,
  clean: boolean,
  whole: boolean,
): number => {
  const usual = clean ? rest.clean : rest.slip
  if (!take) return usual
  // How long a note was held at a mark that waits is left out.
  const legs = take.legs?.all ?? [take.program]
  const [{ firstNote, segments }] = legs
  const counted = firstNote - (segments.find(x => x.kind === 'countIn')?.frame ?? 0)
  const music = legs.reduce((sum, p) => sum + p.end - p.firstNote, 0)
  if (rest.asLong && whole) return Math.max(usual, (music - counted) / rate)
  return Math.max(BREATH, Math.min(usual, (music / 2 - (clean ? counted : 0)) / rate))
}
