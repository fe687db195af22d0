import type { Size } from '../terminal/screen-writer.ts'

/** `full` from 80x24 on (a few rows less will do), `small` down to 40x12, below that one sentence. */
export const kindOf = (size: Size): 'full' | 'small' | 'none' =>
  size.cols < 40 || size.rows < 12 ? 'none' : size.cols < 80 || size.rows < 20 ? 'small' : 'full'

/** Columns that are composed; they stand in the middle of a wider window. */
export const widthOf = (size: Size): number => (size.cols >= 120 ? 112 : Math.min(80, size.cols))

/** Some of the things in a list: from one of them to before another. */
type Window = { readonly from: number; readonly to: number }

/** Which of `count` things are shown when `room` fit: the chosen one is among them, the rest around it. */
export const windowOf = (count: number, chosen: number, room: number): Window => {
  const shown = Math.max(1, Math.min(count, room))
  const from = Math.max(0, Math.min(count - shown, chosen - Math.floor((shown - 1) / 2)))
  return { from, to: from + shown }
}

/** The same where it is not said how many fit: as many around the chosen one as have room, which `rows` tells. */
export const windowIn = (
  room: number,
  count: number,
  chosen: number,
  rows: (w: Window) => number,
): Window => {
  for (let n = count; n > 1; n--) {
    const shown = windowOf(count, chosen, n)
    if (rows(shown) <= room) return shown
  }
  return windowOf(count, chosen, 1)
}

/** Rows of each large thing in a window of at least so many columns and rows; 0 = it is said in words. */
export type Layout = {
  readonly cols: number
  readonly rows: number
  readonly tempo: number
  readonly sign: number
  readonly marks: number
  readonly beat: number
}

/** The first that fits. What is left of the window is for what is read from half a meter, and for air. */
const LAYOUTS: readonly Layout[] = [
  { cols: 200, rows: 60, tempo: 20, sign: 10, marks: 6, beat: 8 },
  { cols: 160, rows: 48, tempo: 16, sign: 7, marks: 5, beat: 6 },
  { cols: 120, rows: 36, tempo: 11, sign: 5, marks: 4, beat: 5 },
  { cols: 100, rows: 30, tempo: 9, sign: 4, marks: 4, beat: 4 },
  { cols: 80, rows: 24, tempo: 7, sign: 3, marks: 3, beat: 3 },
  { cols: 60, rows: 18, tempo: 5, sign: 3, marks: 0, beat: 2 },
  { cols: 50, rows: 14, tempo: 4, sign: 3, marks: 0, beat: 1 },
  { cols: 40, rows: 12, tempo: 3, sign: 3, marks: 0, beat: 1 },
]

/** The layouts that fit the window, the largest first. */
export const layoutsOf = ({ rows, cols }: Size): readonly Layout[] =>
  LAYOUTS.filter(l => cols >= l.cols && rows >= l.rows)

/** How the window is filled; null = it is too small. */
export const layoutOf = (size: Size): Layout | null => layoutsOf(size)[0] ?? null
