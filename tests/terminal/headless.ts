import xterm, { type Terminal } from '@xterm/headless'

/** A terminal without a window, to see what the bytes really draw. */
export type Headless = {
  /** Resolves when the bytes are on the screen. */
  write(bytes: string | Uint8Array): Promise<void>
  /** The screen in front, row by row, without trailing spaces. */
  rows(): string[]
  state(): {
    alternate: boolean
    cursorShown: boolean
    autowrap: boolean
    paste: boolean
    focus: boolean
    synchronized: boolean
  }
  resize(rows: number, cols: number): void
  terminal: Terminal
}

export const headless = (rows: number, cols: number): Headless => {
  const terminal = new xterm.Terminal({ rows, cols, allowProposedApi: true, scrollback: 1000 })
  let cursorShown = true
  for (const final of ['h', 'l'])
    terminal.parser.registerCsiHandler({ prefix: '?', final }, params => {
      if (params.includes(25)) cursorShown = final === 'h'
      return false
    })
  return {
    terminal,
    write: bytes => new Promise(done => terminal.write(bytes, done)),
    rows() {
      const buffer = terminal.buffer.active
      return Array.from(
        { length: terminal.rows },
        (_, i) => buffer.getLine(buffer.baseY + i)?.translateToString(true) ?? '',
      )
    },
    state: () => ({
      alternate: terminal.buffer.active.type === 'alternate',
      cursorShown,
      autowrap: terminal.modes.wraparoundMode,
      paste: terminal.modes.bracketedPasteMode,
      focus: terminal.modes.sendFocusMode,
      synchronized: terminal.modes.synchronizedOutputMode,
    }),
    resize: (r, c) => terminal.resize(c, r),
  }
}

/** How a terminal is before and after a program owned it. */
export const UNTOUCHED = {
  alternate: false,
  cursorShown: true,
  autowrap: true,
  paste: false,
  focus: false,
  synchronized: false,
}
