import type { Placed } from '../click/program.ts'

/** One onset as other programs read it: `frame` from the timeline's start, `seconds` = frame / rate. */
export type TimedOnset = {
  readonly frame: number
  readonly seconds: number
  readonly role: string
  /** 0 is the pick-up, count-in measures are negative. */
  readonly measure: number
  readonly beat: number
}

/** Every onset that is heard, in order; what lies behind a program's cut is not. */
export const timedOnsets = (placed: readonly Placed[], rate: number): readonly TimedOnset[] =>
  placed
    .flatMap(p =>
      p.program.onsets
        .map(o => ({ ...o, frame: p.at + o.frame }))
        .filter(o => o.frame < (p.cut ?? Infinity))
        .map(({ frame, role, measure, beat }) => ({ frame, seconds: frame / rate, role, measure, beat })),
    )
    .sort((a, b) => a.frame - b.frame)

/** The onsets as a JSON array, one object a line. `rate` in frames a second. */
export const onsetsJson = (placed: readonly Placed[], rate: number): string => {
  const lines = timedOnsets(placed, rate).map(o => JSON.stringify(o))
  return lines.length === 0 ? '[]\n' : `[\n${lines.join(',\n')}\n]\n`
}
