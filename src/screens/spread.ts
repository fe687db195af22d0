import { type Beat, beatsOf, type Program } from '../click/program.ts'
import { decimal, type Frac, toNumber } from '../music/fraction.ts'
import { type Meter, measureLength } from '../music/meter.ts'
import type { Tempo } from '../music/tempo.ts'
import type { Row, RowPart, Sheet } from '../terminal/painted.tsx'
import type { Size } from '../terminal/screen-writer.ts'
import { beatRow, beatRows, type Motion, placeInMeasure, type Sign } from './beat.ts'
import { fitted } from './glyphs.ts'
import { INDENT, lengthOf, MARGIN, row, type Sentence, sideBySide, textRows } from './page.ts'
import type { Layout } from './sizes.ts'

/** From here on each thing has rows of its own, and the beat its words beside it. */
export const FULL = 80

/** Columns of the beat, with so many for the words beside it. */
export const fieldWidth = (size: Size, label: number): number =>
  size.cols - INDENT - MARGIN - (size.cols < FULL ? 0 : label + 2)

/** A measure in so many rows, the mark at a part of it (0 to 1; null = none), and beside it words row by row. */
export const fieldRows = (
  measure: string,
  at: number | null,
  rows: number,
  words: readonly string[],
): readonly string[] =>
  beatRows(measure, at, rows).map((text, i) => {
    const word = i === rows - 1 ? words.slice(Math.max(2, rows - 1)).join('   ') : words[i]
    return `${' '.repeat(INDENT)}${text}${word ? `  ${word}` : ''}`
  })

/** What is heard of a program. */
export type Heard = { readonly program: Program; readonly frame: number }

export const beatHeard = (h: Heard | null): Beat | undefined =>
  h ? beatsOf(h.program).findLast(b => b.frame <= h.frame) : undefined

/** "measure 3" of what has no numbers of its own. */
export const measureHeard = (h: Heard | null): string => {
  const at = beatHeard(h)
  return at === undefined ? '' : at.measure < 0 ? 'count-in' : `measure ${at.measure}`
}

/**
 * The rows of a measure that is heard (null = it is at rest), so many, with so many columns for the words beside it. `mark` =
 * how its mark moves.
 */
export const measureRows = (o: {
  readonly heard: Heard | null
  readonly meter: Meter
  readonly unit: Frac
  readonly mark: Motion
  readonly size: Size
  readonly rows: number
  readonly label: number
  readonly words: readonly string[]
  readonly signs?: readonly Sign[]
}): readonly string[] => {
  const { heard, meter, unit, mark, size } = o
  const beats = heard && mark !== 'still' ? beatsOf(heard.program) : null
  const at =
    heard && beats && placeInMeasure(beats, heard.frame, heard.program.end, meter, unit, mark === 'glide')
  const part = at === null ? null : at / toNumber(measureLength(meter))
  const row = beatRow(meter, unit, fieldWidth(size, o.label), o.signs)
  return fieldRows(row, part, o.rows, size.cols < FULL ? [] : o.words)
}

/** A tempo in large figures, or where not even the smallest fit in small ones. */
export const tempoFigures = (t: Tempo, rows: number, columns: number): readonly string[] =>
  fitted(decimal(t.bpm), rows, columns) ?? [decimal(t.bpm)]
export const widest = (rows: readonly string[]): number => Math.max(...rows.map(r => [...r].length))

/** One word or number that is read from two meters, in so many rows, at their foot. */
export const signRows = (
  text: string,
  rows: number,
  columns: number,
  style: Omit<RowPart, 'text'> = {},
): readonly Row[] => {
  const made = fitted(text, rows, columns) ?? [text]
  return Array.from({ length: rows }, (_, i) =>
    row(' '.repeat(INDENT) + (made[i - rows + made.length] ?? ''), style),
  )
}

/** Figures and the sign of the moment: under each other, or where there is little room beside each other. */
export const figuresAndSign = (
  figures: readonly Row[],
  sign: string,
  l: Layout,
  size: Size,
): { readonly large: readonly Row[]; readonly sign: readonly Row[] } => {
  if (size.cols >= FULL) return { large: figures, sign: signRows(sign, l.sign, size.cols - INDENT - MARGIN) }
  const column = Math.max(...figures.map(lengthOf)) + 3
  const made = fitted(sign, Math.min(l.sign, figures.length), size.cols - column - MARGIN) ?? [sign]
  const beside = figures.map((_, i) => row(made[i - figures.length + made.length] ?? ''))
  return { large: sideBySide(figures, beside, column), sign: [] }
}

/**
 * The beat of a program in one number: which one is heard, or how many come before the first note; in its rests and before
 * it begins none.
 */
export const beatSign = (heard: Heard, numbers: boolean): string => {
  const { program } = heard
  const at = beatHeard(heard)
  if (!at || !numbers) return ''
  if (at.frame >= program.firstNote) return String(at.beat)
  const left = beatsOf(program).filter(b => b.frame > at.frame && b.frame < program.firstNote)
  return `IN ${left.length + 1}`
}

/**
 * A window from above: what it is called, what is large, the sign of the moment and the beat, then the sentences, which
 * have at least so many rows. Air where it helps most: before the sign, after the beat, below the title.
 */
export const spread = (p: {
  readonly size: Size
  readonly head: readonly Row[]
  readonly large: readonly Row[]
  readonly sign: readonly Row[]
  readonly beat: readonly string[]
  readonly sentences: readonly Sentence[]
  readonly least: number
}): { readonly rows: Sheet; readonly beatAt: number } => {
  const { size, head, large, sign, beat } = p
  const gaps = size.rows - head.length - large.length - sign.length - beat.length - p.least
  const gap = (nth: number): readonly Row[] =>
    Array<Row>((gaps > nth ? 1 : 0) + (gaps > nth + 4 ? 1 : 0)).fill([])
  const above = [...head, ...gap(2), ...large, ...gap(0), ...sign, ...gap(3)]
  const rows = [...above, ...beat.map(text => row(text)), ...gap(1)]
  const said = textRows(p.sentences, size.cols - 2 * MARGIN, size.rows - rows.length)
  return { rows: [...rows, ...said], beatAt: above.length }
}
