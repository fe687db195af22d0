import { clip } from './cells.ts'

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
