import { stripVTControlCharacters } from 'node:util'
import { type Sheet, sheetText } from '../../src/terminal/painted.tsx'

/** The rows that the terminal gets for a sheet, without colors. */
export const drawn = (sheet: Sheet): string[] =>
  stripVTControlCharacters(sheetText(sheet))
    .split('\n')
    .map(row => row.trimEnd())
