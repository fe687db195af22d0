import { Text } from 'ink'
import { rowText, type Sheet } from './sheet.ts'

/**
 * Ink measures every character of every frame anew, which at 160 x 48 costs more than all else together. So a row that is
 * painted stands in Ink's tree as one sign of a private use area (Unicode 16, plane 15), and is put in its place when the
 * frame has been laid out.
 */
const FIRST_SIGN = 0xf0000
const MOST_SIGNS = 1024
/** From row to sign, the row that was drawn least recently first. */
const signs = new Map<string, string>()
const rows = new Map<string, string>()

const signOf = (row: string): string => {
  const [oldest] = signs
  const sign =
    signs.get(row) ??
    (signs.size < MOST_SIGNS || !oldest ? String.fromCodePoint(FIRST_SIGN + signs.size) : oldest[1])
  if (signs.has(row)) signs.delete(row)
  else if (signs.size >= MOST_SIGNS && oldest) signs.delete(oldest[0])
  signs.set(row, sign)
  rows.set(sign, row)
  return sign
}

/** A sheet in Ink's tree; one column wide. */
export const Painted = ({ sheet }: { readonly sheet: Sheet }) => (
  <Text>{sheet.map(row => signOf(rowText(row))).join('\n')}</Text>
)

/** A frame of Ink with every row in its place. */
export const spelled = (frame: string): string =>
  frame.replace(/[\u{f0000}-\u{f03ff}]/gu, sign => rows.get(sign) ?? '')
