import type { Beat } from '../click/program.ts'
import type { Breath, Measure } from '../music/form.ts'
import { compare, type Frac, sub, toNumber } from '../music/fraction.ts'
import { type Meter, measureLength, pulses } from '../music/meter.ts'
import { type Letters, letterBehind, type Numbered, placeAt } from '../music/place.ts'

const BAR = '┃'
const LINE = '─'
/** The breath mark of the part. */
const COMMA = ','
/** A fermata, as far as every console's letters have one: the music waits here for the pedal. */
const WAITS = '∩'

/** A mark of the part, in whole notes from the bar line. */
export type Sign = { readonly at: number; readonly waits: boolean }

/** Where a mark stands, said shortly before it comes: "43.2", or its measure alone; a fermata on the note that it holds. */
export const placeAhead = (b: Breath, music: Numbered, letters?: Letters | null): string => {
  const place = placeAt(b.note ? sub(b.at, b.note) : b.at, music)
  return place.replace(/\(\d+\)|\+.*/g, '') + letterBehind(letters, place)
}

/** The marks that stand in a measure; one on a bar line belongs to the measure that it ends. */
export const signsIn = (
  bar: Measure,
  marks: readonly Breath[],
  waiting: readonly Breath[] = [],
): readonly Sign[] =>
  marks
    .filter(m => compare(m.at, bar.from) > 0 && compare(m.at, bar.to) <= 0)
    .map(m => ({ at: toNumber(sub(m.at, bar.barline)), waits: waiting.includes(m) }))

/** Where a place in a measure is drawn: columns from the left end of a strip `width` wide. */
const columns =
  (meter: Meter, width: number) =>
  (at: number): number =>
    1 + Math.max(0, Math.min(width - 3, Math.floor((at / toNumber(measureLength(meter))) * (width - 2))))

/**
 * One measure as a row `width` columns wide: bar lines at the ends, beats at their true distances, the marks of the part.
 * `unit` is counted.
 */
export const beatRow = (meter: Meter, unit: Frac, width: number, signs: readonly Sign[] = []): string => {
  const inner = width - 2
  const column = columns(meter, width)
  const cells: string[] = [BAR, ...Array<string>(inner).fill(LINE), BAR]
  pulses(meter, unit).forEach((p, i) => {
    for (const [k, digit] of [...String(i + 1)].entries()) {
      const at = column(toNumber(p.at)) + k
      if (at <= inner) cells[at] = digit
    }
  })
  // Behind the note before it.
  for (const s of signs) cells[Math.max(1, column(s.at) - 1)] = s.waits ? WAITS : COMMA
  return cells.join('')
}

/**
 * The same measure in several rows, to be seen from two meters: a thick mark between the bar lines, over the row with the
 * numbers of the beats. The mark moves by halves of a column. `at` as a part of the measure, 0 to 1; null = no mark.
 */
export const beatRows = (row: string, at: number | null, rows: number): readonly string[] => {
  const inner = row.length - 2
  const tall = [...row].map((c, i) =>
    c === BAR ? BAR : i > 1 && /\d/.test(c) && !/\d/.test(row[i - 1] ?? '') ? '│' : ' ',
  )
  const wide = Math.max(1, rows - 1)
  const from = at === null ? null : Math.min(2 * (inner - wide), Math.floor(at * 2 * inner))
  const marked = (cells: readonly string[]): string => {
    if (from === null) return cells.join('')
    const first = 1 + Math.floor(from / 2)
    const mark = from % 2 === 0 ? '█'.repeat(wide) : `▐${'█'.repeat(wide - 1)}▌`
    return cells.slice(0, first).join('') + mark + cells.slice(first + mark.length).join('')
  }
  return rows === 1 ? [marked([...row])] : [...Array<string>(rows - 1).fill(marked(tall)), row]
}

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

/** How the mark of the beat moves: on between the beats, from beat to beat, or not at all. */
export const MOTIONS = ['glide', 'step', 'still'] as const
export type Motion = (typeof MOTIONS)[number]

/**
 * WCAG 2.2, success criterion 2.3.1: nothing flashes more than three times in any second. A flash is a pair of opposing
 * changes; held here for every cell, however small the area.
 */
const FLASHES = 3

/** Whether in any second there are at most so many of these moments; frames, in order. */
const atMost = (frames: readonly number[], most: number, rate: number): boolean =>
  frames.every((f, i) => (frames[i + most] ?? Infinity) - f >= rate)

/** Where the measures of a program begin. */
const measureStarts = (beats: readonly Beat[]): readonly number[] =>
  beats.filter((b, i) => b.measure !== beats[i - 1]?.measure).map(b => b.frame)

/** Within a beat, at least; as many again where there is time for them. */
const PLACES = 8

/** Milliseconds until the mark stands elsewhere; `end` = the written end. */
export const placeLasts = (beats: readonly Beat[], frame: number, end: number, rate: number): number => {
  const i = beats.findLastIndex(b => b.frame <= frame)
  const here = beats[i]
  if (!here) return 60
  const lasts = (((beats[i + 1]?.frame ?? end) - here.frame) * 1000) / rate
  return Math.max(16, Math.min(60, lasts / PLACES))
}

/** What moves of a beat: the mark in its row, and the number of the beat. */
type Moves = { readonly mark: Motion; readonly number: boolean }

const known = new WeakMap<readonly Beat[], { readonly mark: boolean; readonly number: boolean }>()

/**
 * What may move over these beats. The mark is at each place of its row once a measure: one flash. A number that is
 * replaced at each beat may light the same cell at every second one: two changes, one flash.
 */
export const moves = (wanted: Motion, beats: readonly Beat[], rate: number): Moves => {
  const slow = known.get(beats) ?? {
    mark: atMost(measureStarts(beats), FLASHES, rate),
    number: atMost(
      beats.map(b => b.frame),
      2 * FLASHES,
      rate,
    ),
  }
  known.set(beats, slow)
  return { mark: slow.mark ? wanted : 'still', number: slow.number && wanted !== 'still' }
}
