import chalk from 'chalk'
import { Text } from 'ink'

/**
 * Colors by meaning, of the 256 whose values terminals share (xterm's table). Each stands at 4.5:1 or better against black
 * and against white (WCAG 2.2, contrast ratio), so one set serves dark and light windows. Nothing is said by color alone.
 * What 16 colors look like is for each terminal and player to say, so no contrast could be promised: there, as without
 * colors, all is in the window's own.
 */
export const HUES = { good: 29, bad: 131, mark: 98, soft: 243 } as const

/** A piece of a row, in a color by its meaning. */
export type RowPart = { readonly text: string; readonly color?: keyof typeof HUES; readonly bold?: true }
export type Row = readonly RowPart[]
/** A whole window, row by row: what a screen draws that is drawn often. */
export type Sheet = readonly Row[]

const painted = ({ text, color, bold }: RowPart): string => {
  if (!color && !bold) return text
  const pen = bold ? chalk.bold : chalk
  return (color && chalk.level >= 2 ? pen.ansi256(HUES[color]) : pen)(text)
}

/** A row as the terminal gets it. */
export const rowText = (row: Row): string => row.map(painted).join('')

export const sheetText = (rows: Sheet): string => rows.map(rowText).join('\n')

/**
 * Ink measures every character of every frame anew, which costs more than all else together. So what is painted stands in
 * Ink's tree as one sign of a private use area (Unicode 16, plane 15), and is put in its place when the frame has been laid
 * out. A few frames are kept: one of each screen that is open, and that which is laid out.
 */
const FIRST_SIGN = 0xf0000
const KEPT = 16
const frames: string[] = []
let latest = 0

const signOf = (frame: string): string => {
  // A frame that stays is the same sign: Ink has nothing to do.
  if (frames[latest] !== frame) {
    latest = (latest + 1) % KEPT
    frames[latest] = frame
  }
  return String.fromCodePoint(FIRST_SIGN + latest)
}

/** A sheet in Ink's tree; one column wide and one row high. */
export const Painted = ({ sheet }: { readonly sheet: Sheet }) => <Text>{signOf(sheetText(sheet))}</Text>

/** A frame of Ink with what is painted in its place. */
export const spelled = (frame: string): string =>
  frame.replace(/[\u{f0000}-\u{f000f}]/gu, sign => frames[(sign.codePointAt(0) ?? 0) - FIRST_SIGN] ?? '')
