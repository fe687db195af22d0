import type { Row, RowPart } from '../terminal/painted.tsx'
import type { Size } from '../terminal/screen-writer.ts'
import { apart, inRows } from './home/layout.ts'
import { TOO_SMALL } from './sizes.ts'

export const row = (text: string, style: Omit<RowPart, 'text'> = {}): Row => [{ text, ...style }]
export const lengthOf = (r: Row): number => r.reduce((n, p) => n + [...p.text].length, 0)

/** Rows beside each other: the right ones begin in one column. */
export const sideBySide = (left: readonly Row[], right: readonly Row[], column: number): readonly Row[] =>
  Array.from({ length: Math.max(left.length, right.length) }, (_, i) => {
    const [l, r] = [left[i] ?? [], right[i]]
    return r ? [...l, { text: ' '.repeat(Math.max(1, column - lengthOf(l))) }, ...r] : l
  })

/**
 * A text in rows of so many columns. What stands apart in it (two spaces or more) is broken there first, then between
 * words; nothing is cut.
 */
export const inPhrases = (text: string, width: number): readonly string[] => {
  const rows: string[] = []
  for (const [, gap = '', phrase = ''] of text.matchAll(/( {2,}|^ ?)(.+?)(?= {2,}|$)/g)) {
    const last = rows.at(-1)
    const joined = `${last}${gap}${phrase}`
    if (last !== undefined && [...joined].length <= width) rows[rows.length - 1] = joined
    else rows.push(...inRows(phrase, width))
  }
  return rows.map(apart)
}

/** Columns before and after what is written. */
export const MARGIN = 1
/** Columns before what is large. */
export const INDENT = 2

export const indented = (
  rows: readonly string[],
  style: Omit<RowPart, 'text'> = {},
  by = INDENT,
): readonly Row[] => rows.map(text => row(' '.repeat(by) + text, style))

/** A sentence, in which order it stands, and in which it goes where there is no room for all. */
export type Sentence = {
  readonly text: string
  readonly weight: number
  readonly style?: Omit<RowPart, 'text'>
}

/** The sentences for which there is room, in their order; none is cut. */
export const textRows = (all: readonly Sentence[], width: number, room: number): readonly Row[] => {
  const rows = all.map(s => inPhrases(s.text, width))
  const order = all.map((_, i) => i).sort((a, b) => (all[a]?.weight ?? 0) - (all[b]?.weight ?? 0))
  const kept = new Set<number>()
  let left = room
  for (const i of order) {
    const n = rows[i]?.length ?? 0
    if (n > left) continue
    kept.add(i)
    left -= n
  }
  return all.flatMap((s, i) => (kept.has(i) ? indented(rows[i] ?? [], s.style, MARGIN) : []))
}

/** All that a window has room for that is too small to play by. */
export const tooSmall = ({ cols }: Size): readonly Row[] => inRows(TOO_SMALL, cols).map(text => row(text))

/** A row of hints as one sentence to be spoken: what stands apart on a screen is told apart by commas. */
export const inOneBreath = (row: string): string => row.trim().replaceAll(/ {2,}/g, ', ')
