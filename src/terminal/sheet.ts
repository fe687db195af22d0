import chalk from 'chalk'
import { HUES } from './theme.ts'

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
