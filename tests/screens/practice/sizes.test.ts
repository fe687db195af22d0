import chalk from 'chalk'
import { afterAll, describe, expect, test } from 'vitest'
import { decimal } from '../../../src/music/fraction.ts'
import { bigText } from '../../../src/screens/glyphs.ts'
import { signOf } from '../../../src/screens/practice/now.ts'
import { practiceSheet, type Shown } from '../../../src/screens/practice/view.ts'
import { layoutOf } from '../../../src/screens/sizes.ts'
import { HUES, sheetText } from '../../../src/terminal/painted.tsx'
import { screenWriter } from '../../../src/terminal/screen-writer.ts'
import { rungOf } from '../../../src/visit/session.ts'
import { headless } from '../../terminal/headless.ts'
import { SCENES } from './scenes.ts'

const SIZES = [
  { cols: 40, rows: 12 },
  { cols: 50, rows: 14 },
  { cols: 80, rows: 24 },
  { cols: 100, rows: 30 },
  { cols: 120, rows: 36 },
  { cols: 160, rows: 48 },
  { cols: 200, rows: 60 },
]
/** All colors, the 16 of the terminal, none. */
const MODES = [3, 1, 0] as const
/** What the sign of each scene says, and its beginning where it counts. */
const SAYS: Readonly<Record<string, RegExp>> = {
  ready: /^READY$/,
  'counting in': /^IN [1-4]$/,
  playing: /^[1-4]$/,
  held: /^HELD$/,
  clean: /^CLEAN$/,
  'not clean': /^SLIP$/,
  up: /^UP$/,
  down: /^DOWN$/,
  goal: /^GOAL$/,
}

const before = chalk.level
afterAll(() => {
  chalk.level = before
})

/** The screen as a terminal shows it. */
const cells = async (p: Shown) => {
  const text = sheetText(practiceSheet(p))
  const writer = screenWriter(p.size)
  writer.frame(text)
  const h = headless(p.size.rows, p.size.cols)
  await h.write(writer.update())
  return { h, height: text.replace(/\n+$/, '').split('\n').length }
}

describe.each(Object.keys(SCENES))('the practice screen, %s', name => {
  test.each(SIZES)(
    '$cols x $rows: tempo, state, row, goal and pedal are there, in three color modes',
    async size => {
      const scene = await SCENES[name]?.()
      if (!scene) throw new Error(name)
      const p: Shown = { ...scene, size }
      const sign = signOf(p.session, p.frame, true).text
      expect(sign).toMatch(SAYS[name] as RegExp)
      const layout = layoutOf(size)
      if (!layout) throw new Error('too small')
      for (const mode of MODES) {
        chalk.level = mode
        const { h, height } = await cells(p)
        const rows = h.rows()
        const all = rows.join('\n')
        expect(height, all).toBeLessThanOrEqual(size.rows)
        for (const row of bigText(decimal(rungOf(p.session.ladder).bpm), layout.tempo))
          expect(all).toContain(row.trimEnd())
        for (const row of bigText(sign, layout.sign)) expect(all).toContain(row.trimEnd())
        expect(all).toMatch(/of (three|3) in a row|the goal is/)
        expect(all).toMatch(/goal\s+(> +)?120/)
        expect(all).toMatch(/pedal|right/)
        expect(all).toMatch(/┃.*1.*2.*3.*┃/)
        const hues: readonly number[] = Object.values(HUES)
        const wrong: string[] = []
        for (let y = 0; y < size.rows; y++)
          for (let x = 0; x < size.cols; x++) {
            const cell = h.terminal.buffer.active.getLine(y)?.getCell(x)
            if (!cell) continue
            const plain = cell.isFgDefault() && cell.isBgDefault()
            const ours = mode < 2 ? plain : cell.isFgDefault() || hues.includes(cell.getFgColor())
            if (cell.isBlink() + cell.isInverse() > 0 || !ours) wrong.push(`${x},${y} ${cell.getChars()}`)
          }
        expect(wrong, `colors: ${mode}`).toEqual([])
      }
    },
  )
})

test('tempo, state, row marks and beat grow with the window, and never shrink', () => {
  const all = SIZES.map(layoutOf)
  for (const [i, l] of all.entries()) {
    const smaller = all[i - 1]
    if (!l || !smaller) continue
    for (const k of ['tempo', 'sign', 'marks', 'beat'] as const) {
      expect(l[k], k).toBeGreaterThanOrEqual(smaller[k])
      if (l.cols >= 120)
        expect(l[k], `${k} at ${l.cols}`).toBeGreaterThan((layoutOf({ cols: 80, rows: 24 }) ?? l)[k])
    }
  }
})

test('in a small window no row is empty while something that matters is left out', async () => {
  for (const name of Object.keys(SCENES))
    for (const size of SIZES.slice(0, 2)) {
      const scene = await SCENES[name]?.()
      if (!scene) continue
      const rows = (await cells({ ...scene, size })).h.rows()
      const empty = rows.filter(r => r.trim() === '').length
      // The least of all that is said is the sound.
      if (!rows.join('\n').includes(scene.sound)) expect(empty, `${name} ${size.cols}`).toBeLessThanOrEqual(1)
    }
})

test('the beat stays in its rows whatever is said below it', async () => {
  for (const size of SIZES) {
    const at = await Promise.all(
      ['ready', 'counting in', 'playing', 'clean', 'not clean', 'up'].map(async name => {
        const scene = await SCENES[name]?.()
        if (!scene) throw new Error(name)
        return (await cells({ ...scene, size })).h.rows().findIndex(r => r.includes('┃'))
      }),
    )
    expect(new Set(at).size, `${size.cols}x${size.rows}: ${at}`).toBe(1)
  }
})
