import type { Beat } from '../click/beats.ts'
import { type Frac, toNumber } from '../music/fraction.ts'
import { type Meter, measureLength, pulses } from '../music/meter.ts'

/** One measure drawn as a row: bar lines at the ends, beats at their true distances, a mark where the sound is. */
export type BeatStrip = { readonly row: string; readonly mark: number | null }

const BAR = '┃'
const LINE = '─'
export const MARK = '●'
/** The breath mark of the part. */
const COMMA = ','

/**
 * `at` = where the sound is, `breaths` = where one breathes, both in whole notes from the bar line; `unit` is counted.
 * `width` in columns, bar lines included.
 */
export const beatStrip = (o: {
  readonly meter: Meter
  readonly unit: Frac
  readonly width: number
  readonly at: number | null
  readonly breaths?: readonly number[]
}): BeatStrip => {
  const whole = toNumber(measureLength(o.meter))
  const inner = o.width - 2
  const column = (at: number): number =>
    1 + Math.max(0, Math.min(inner - 1, Math.floor((at / whole) * inner)))
  const cells: string[] = [BAR, ...Array<string>(inner).fill(LINE), BAR]
  pulses(o.meter, o.unit).forEach((p, i) => {
    for (const [k, digit] of [...String(i + 1)].entries()) {
      const at = column(toNumber(p.at)) + k
      if (at <= inner) cells[at] = digit
    }
  })
  for (const at of o.breaths ?? []) cells[Math.max(1, column(at) - 1)] = COMMA
  return { row: cells.join(''), mark: o.at === null ? null : column(o.at) }
}

/** The strip as plain text, its mark included. */
export const stripText = ({ row, mark }: BeatStrip): string =>
  mark === null ? row : row.slice(0, mark) + MARK + row.slice(mark + 1)

/**
 * Where in its measure a frame lies, in whole notes from the bar line: at the last beat or, traveling, on the way to the
 * next one. `beats` are those of the program, in order; `end` its written end. Null before the first beat.
 */
export const placeInMeasure = (
  beats: readonly Beat[],
  frame: number,
  end: number,
  meter: Meter,
  unit: Frac,
  traveling: boolean,
): number | null => {
  const i = beats.findLastIndex(b => b.frame <= frame)
  const [here, next] = [beats[i], beats[i + 1]]
  if (!here) return null
  const all = pulses(meter, unit)
  const place = (beat: number): number => {
    const pulse = all[beat - 1]
    return pulse ? toNumber(pulse.at) : toNumber(measureLength(meter))
  }
  if (!traveling) return place(here.beat)
  const part = Math.min(1, (frame - here.frame) / Math.max(1, (next?.frame ?? end) - here.frame))
  return place(here.beat) + (place(here.beat + 1) - place(here.beat)) * part
}
