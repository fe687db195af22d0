/**
 * The escape sequences that Gradino sends, each under its name. Rows and columns count from 0 at the top left.
 * Source: "XTerm Control Sequences" (invisible-island.net) for all but synchronized updates, which are
 * private mode 2026 of the "Synchronized Output" specification; terminals that lack it ignore it.
 */

const CSI = '\x1b['
const mode = (n: number, on: boolean): string => `${CSI}?${n}${on ? 'h' : 'l'}`

export const moveTo = (row: number, col: number): string => `${CSI}${row + 1};${col + 1}H`
export const eraseToEndOfRow = (): string => `${CSI}K`
export const eraseScreen = (): string => `${CSI}2J`
const resetStyle = (): string => `${CSI}0m`
const alternateScreen = (on: boolean): string => mode(1049, on)
const cursorShown = (on: boolean): string => mode(25, on)
const autowrap = (on: boolean): string => mode(7, on)
const bracketedPaste = (on: boolean): string => mode(2004, on)
const focusReports = (on: boolean): string => mode(1004, on)

/** The terminal shows what is between the two marks at once, so no half-drawn frame is seen. */
export const synchronized = (s: string): string => mode(2026, true) + s + mode(2026, false)

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
