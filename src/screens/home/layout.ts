import type { Size } from '../../terminal/screen-writer.ts'

/** `full` from 80x24 on (a few rows less will do), `small` down to 40x12, below that one sentence. */
export const kindOf = (size: Size): 'full' | 'small' | 'none' =>
  size.cols < 40 || size.rows < 12 ? 'none' : size.cols < 80 || size.rows < 20 ? 'small' : 'full'

/** Columns that are composed; they stand in the middle of a wider window. */
export const widthOf = (size: Size): number => (size.cols >= 120 ? 112 : Math.min(80, size.cols))

/** Which of `count` things are shown when `room` fit: the chosen one is among them, the rest around it. */
export const windowOf = (count: number, chosen: number, room: number): { from: number; to: number } => {
  const shown = Math.max(1, Math.min(count, room))
  const from = Math.max(0, Math.min(count - shown, chosen - Math.floor((shown - 1) / 2)))
  return { from, to: from + shown }
}

/** The same where each thing has rows of its own: as many around the chosen one as fit in `room` rows. */
export const rowsAround = (
  rows: readonly number[],
  chosen: number,
  room: number,
): { from: number; to: number } => {
  for (let n = rows.length; n > 1; n--) {
    const shown = windowOf(rows.length, chosen, n)
    if (rows.slice(shown.from, shown.to).reduce((a, b) => a + b, 0) <= room) return shown
  }
  return windowOf(rows.length, chosen, 1)
}

/** Keeps a number and its unit in one row (Unicode, no-break space); a row has a plain space there. */
export const TOGETHER = '\u00a0'
export const apart = (row: string): string => row.replaceAll(TOGETHER, ' ')

/** Where a row may end: not between "m." and its number, not before "%", not where words are kept together. */
const BETWEEN = /(?<!\bm\.)[^\S\u00a0]+(?!%)/

/** A text in rows of at most `width` characters, cut between words; a longer word is cut inside. */
export const inRows = (text: string, width: number): readonly string[] => {
  const rows: string[] = []
  for (const word of text.split(BETWEEN).filter(Boolean)) {
    const last = rows.at(-1)
    if (last !== undefined && last.length + 1 + word.length <= width)
      rows[rows.length - 1] = `${last} ${word}`
    else for (let i = 0; i < word.length; i += width) rows.push(word.slice(i, i + width))
  }
  return rows.map(apart)
}

/** Dots that lead the eye to the numbers, as on a printed program: under each other whatever stands before them. */
export const leader = (from: number, to: number): string =>
  Array.from({ length: Math.max(0, to - from) }, (_, i) => (i > 0 && (from + i) % 2 === 0 ? '.' : ' ')).join(
    '',
  )

/** Rows above the list; and below it: what is not shown, two rows of keys. */
const HEAD = 5
const FOOT = 3
/** The row below the chosen passage, with what there is no column for. */
const DETAIL = 1

/**
 * As many passages around the chosen one as fit: a row each, and one over them for each piece. `pieces` = the piece of
 * each passage, in order; `more` = rows of note and cautions.
 */
export const passagesShown = (
  pieces: readonly string[],
  chosen: number,
  size: Size,
  more: number,
): { from: number; to: number } => {
  const room = size.rows - HEAD - FOOT - DETAIL - more
  for (let n = Math.min(pieces.length, room); n > 1; n--) {
    const shown = windowOf(pieces.length, chosen, n)
    if (n + new Set(pieces.slice(shown.from, shown.to)).size <= room) return shown
  }
  return windowOf(pieces.length, chosen, 1)
}

/** A name that is too long loses its middle: both ends tell passages apart. */
export const shortened = (text: string, room: number): string => {
  const all = [...text]
  if (all.length <= room) return text
  const end = Math.floor((room - 1) / 2)
  return `${all
    .slice(0, room - 1 - end)
    .join('')
    .trimEnd()}…${all
    .slice(all.length - end)
    .join('')
    .trimStart()}`
}
