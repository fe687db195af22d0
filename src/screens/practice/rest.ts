import type { Setup, Take } from './session.ts'

/**
 * Seconds between a verdict and the count-in. With `asLong` as long as the whole repetition that was played, silence
 * and count-in together: the lip recovers. Common practice among brass players, no source.
 */
export const restAfter = (
  { rest, rate }: Setup,
  take: Take | null,
  clean: boolean,
  whole: boolean,
): number => {
  const usual = clean ? rest.clean : rest.slip
  if (!rest.asLong || !whole || !take) return usual
  const { program } = take
  const counted = program.firstNote - (program.segments.find(x => x.kind === 'countIn')?.frame ?? 0)
  return Math.max(usual, (program.end - program.firstNote - counted) / rate)
}
