/** How text fills the cells of a terminal row, and how a row is cut to the width of the screen. */

// biome-ignore lint/suspicious/noControlCharactersInRegex: escape sequences begin with one
const STYLE = /^\x1b\[[\d;:]*m/
const OTHER_ESCAPES =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is removed
  /\x1b(?!\[[\d;:]*m)(?:\[[0-?]*[ -/]*[@-~]|[\]P_^X][^\x07\x1b]*(?:\x07|\x1b\\)?|[^[\]P_^X])?/g
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is removed
const CONTROLS = /[\x00-\x1a\x1c-\x1f\x7f-\x9f]/g
/** Letters of ASCII, and the lines and blocks that screens are drawn with: a cell each. */
const SINGLE = /^[\x20-\x7e\u2500-\u259f]*$/
const NO_WIDTH = /^[\p{Mn}\p{Me}\p{Cf}]/u
/** East Asian wide and fullwidth characters (Unicode Standard Annex 11) and emoji drawn as pictures. */
const TWO_CELLS =
  /^(?![\uff61-\uffdc])(?:\p{Emoji_Presentation}|\p{Script=Han}|\p{Script=Hiragana}|\p{Script=Katakana}|\p{Script=Hangul}|[\u3000-\u303e\u3099-\u30ff\u3200-\u32ff\ufe30-\ufe6f\uff01-\uff60\uffe0-\uffe6])/u

const graphemes = new Intl.Segmenter(undefined, { granularity: 'grapheme' })

const graphemeCells = (g: string): number => {
  if (NO_WIDTH.test(g)) return 0
  return TWO_CELLS.test(g) || g.includes('\ufe0f') ? 2 : 1
}

/**
 * The row as far as it fits into `columns` cells, and the cells it fills. Only colors and styles pass: any other
 * escape sequence or control character is left out, wherever it came from. Styles are closed at the end.
 */
export const clip = (row: string, columns: number): { text: string; cells: number } => {
  if (SINGLE.test(row)) return { text: row.slice(0, columns), cells: Math.min(row.length, columns) }
  let rest = row.replace(OTHER_ESCAPES, '').replace(CONTROLS, '')
  let text = ''
  let cells = 0
  let styled = false
  while (rest !== '') {
    const style = STYLE.exec(rest)?.[0]
    if (style !== undefined) {
      text += style
      styled = true
      rest = rest.slice(style.length)
      continue
    }
    const end = rest.indexOf('\x1b', 1)
    const run = end < 0 ? rest : rest.slice(0, end)
    rest = rest.slice(run.length)
    if (SINGLE.test(run) && cells + run.length <= columns) {
      text += run
      cells += run.length
      continue
    }
    for (const { segment } of graphemes.segment(run)) {
      const width = graphemeCells(segment)
      if (cells + width > columns) return { text: styled ? `${text}\x1b[0m` : text, cells }
      text += segment
      cells += width
    }
  }
  return { text: styled ? `${text}\x1b[0m` : text, cells }
}
