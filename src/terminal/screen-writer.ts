export type Size = { readonly rows: number; readonly cols: number }

/**
 * What to send so that a screen showing `shown` shows `wanted`: only rows that differ, each by its own address,
 * inside one synchronized update. `shown` null = unknown, so all is drawn anew. '' if nothing changed.
 */
export const updateRows = (
  shown: readonly string[] | null,
  wanted: readonly string[],
  { rows, cols }: Size,
): string => {
  let bytes = shown === null ? eraseScreen() : ''
  for (let row = 0; row < rows; row += 1) {
    const text = wanted[row] ?? ''
    if (text === (shown?.[row] ?? '')) continue
    const cut = clip(text, cols)
    // With autowrap off the cursor stays on the last cell of a full row: erasing there would eat that cell.
    bytes += moveTo(row, 0) + cut.text + (cut.cells < cols ? eraseToEndOfRow() : '')
  }
  return bytes === '' ? '' : synchronized(bytes)
}

export type ScreenWriter = {
  /** The whole screen as it should be, rows separated by newlines; rows and cells beyond the size are cut. */
  frame(text: string): void
  /**
   * Draws `text` over one row (0 = top) without a new frame. It stays until the frame's own row changes,
   * another patch replaces it, null gives the row back, or the size changes.
   */
  patch(row: number, text: string | null): void
  resize(size: Size): void
  /** The screen was left or damaged: the next update draws everything. */
  forget(): void
  /** The bytes from what is shown to what is wanted now. Skipped frames cost nothing: the latest wins. */
  update(): string
}

export const screenWriter = (initial: Size): ScreenWriter => {
  let size = initial
  let shown: readonly string[] | null = null
  let rows: readonly string[] = []
  const patches = new Map<number, string>()

  return {
    frame(text) {
      const next = text.split('\n')
      for (const row of patches.keys()) if (next[row] !== rows[row]) patches.delete(row)
      rows = next
    },
    patch(row, text) {
      if (text === null) patches.delete(row)
      else patches.set(row, text)
    },
    resize(next) {
      size = next
      shown = null
      patches.clear()
    },
    forget() {
      shown = null
    },
    update() {
      const wanted = Array.from({ length: size.rows }, (_, row) => patches.get(row) ?? rows[row] ?? '')
      const bytes = updateRows(shown, wanted, size)
      shown = wanted
      return bytes
    },
  }
}

/**
 * The escape sequences that Gradino sends, each under its name. Rows and columns count from 0 at the top left.
 * Source: "XTerm Control Sequences" (invisible-island.net) for all but synchronized updates, which are
 * private mode 2026 of the "Synchronized Output" specification; terminals that lack it ignore it.
 */

const CSI = '\x1b['
const mode = (n: number, on: boolean): string => `${CSI}?${n}${on ? 'h' : 'l'}`

const moveTo = (row: number, col: number): string => `${CSI}${row + 1};${col + 1}H`
export const eraseToEndOfRow = (): string => `${CSI}K`
const eraseScreen = (): string => `${CSI}2J`
const resetStyle = (): string => `${CSI}0m`
const alternateScreen = (on: boolean): string => mode(1049, on)
const cursorShown = (on: boolean): string => mode(25, on)
const autowrap = (on: boolean): string => mode(7, on)
const bracketedPaste = (on: boolean): string => mode(2004, on)
const focusReports = (on: boolean): string => mode(1004, on)

/** The terminal shows what is between the two marks at once, so no half-drawn frame is seen. */
const synchronized = (s: string): string => mode(2026, true) + s + mode(2026, false)

/** Everything needed to own the whole terminal. */
export const enterScreen = (): string =>
  alternateScreen(true) + autowrap(false) + cursorShown(false) + bracketedPaste(true) + focusReports(true)

/** Gives everything back, whatever moment it is sent at (also inside a synchronized update). */
export const leaveScreen = (): string =>
  mode(2026, false) +
  focusReports(false) +
  bracketedPaste(false) +
  autowrap(true) +
  cursorShown(true) +
  alternateScreen(false) +
  resetStyle()

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
