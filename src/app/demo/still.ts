import { stripVTControlCharacters } from 'node:util'
import { practiceSheet } from '../../screens/practice/compose.ts'
import type { Shown } from '../../screens/practice/shown.ts'
import { sheetText } from '../../terminal/sheet.ts'

/** The practice screen as rows of text, without colors. */
export const still = (shown: Shown): string => {
  const rows = stripVTControlCharacters(sheetText(practiceSheet(shown))).split('\n')
  return `${rows.map(row => row.trimEnd()).join('\n')}\n`
}
