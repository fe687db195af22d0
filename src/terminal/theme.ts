import chalk from 'chalk'

/**
 * Colors by meaning, of the 256 whose values terminals share (xterm's table). Each stands at 4.5:1 or better against black
 * and against white (WCAG 2.2, contrast ratio), so one set serves dark and light windows. Nothing is said by color alone.
 */
export const HUES = { good: 29, bad: 131, mark: 98, soft: 243 } as const

/**
 * What 16 colors look like is for each terminal and player to say, so no contrast could be promised: there, as without
 * colors, all is in the window's own.
 */
const hue = (n: number): string => (chalk.level >= 2 ? `ansi256(${n})` : '')

export const theme = {
  get good() {
    return hue(HUES.good)
  },
  get bad() {
    return hue(HUES.bad)
  },
  get mark() {
    return hue(HUES.mark)
  },
  get soft() {
    return hue(HUES.soft)
  },
}
