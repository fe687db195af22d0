import chalk from 'chalk'
import { afterEach, expect, test } from 'vitest'
import { HUES, rowText } from '../../src/terminal/painted.tsx'

const level = chalk.level
afterEach(() => {
  chalk.level = level
})

// Formulas: WCAG 2.2, definitions of relative luminance and contrast ratio. Colors: xterm's 256color table (a cube of six
// levels and 24 grays).
const LEVELS = [0, 95, 135, 175, 215, 255]
const rgb = (n: number): readonly number[] =>
  n >= 232
    ? [0, 1, 2].map(() => 8 + 10 * (n - 232))
    : [36, 6, 1].map(k => LEVELS[Math.floor((n - 16) / k) % 6] ?? 0)
const channel = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
const luminance = (n: number): number => {
  const [r = 0, g = 0, b = 0] = rgb(n).map(v => channel(v / 255))
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}

test('every color stands at 4.5:1 or better against black and against white: text, and figures all the more (3:1)', () => {
  for (const [name, n] of Object.entries(HUES)) {
    expect((luminance(n) + 0.05) / 0.05, name).toBeGreaterThanOrEqual(4.5)
    expect(1.05 / (luminance(n) + 0.05), name).toBeGreaterThanOrEqual(4.5)
  }
})

test('the arithmetic is right at its ends: white on black is 21:1', () => {
  expect((luminance(231) + 0.05) / (luminance(16) + 0.05)).toBeCloseTo(21, 9)
})

test('hues are named only where their values are known: not among 16 colors, not without colors', () => {
  chalk.level = 3
  const seen = () =>
    Object.keys(HUES).map(color => rowText([{ text: 'x', color: color as keyof typeof HUES }]))
  expect(seen()).toEqual(Object.values(HUES).map(n => `\u001b[38;5;${n}mx\u001b[39m`))
  for (const few of [1, 0] as const) {
    chalk.level = few
    expect(seen()).toEqual(Object.keys(HUES).map(() => 'x'))
  }
})
