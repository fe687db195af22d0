import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { demonstration, type Shot } from './recorded.ts'
import { type Cells, moving, still } from './terminal-svg.ts'

/** Seconds from one drawing of the moving picture to the next. */
const STEP = 0.1

const home = mkdtempSync(join(tmpdir(), 'gradino-pictures-'))
let shots: readonly Shot[] = []
beforeAll(async () => {
  shots = await demonstration(home)
})
afterAll(() => rmSync(home, { recursive: true, force: true }))

const seen = (at: number): Shot => shots.findLast(s => s.at <= at + 1e-9) as Shot
const firstWith = (what: string, from = 0): number =>
  shots.find(s => s.at >= from && s.text.includes(what))?.at ?? 0

/** The third repetition of a row, the press, and the first note a rung higher. */
const scene = () => {
  const up = firstWith('A rung up')
  // The repetition before it was answered some seven seconds earlier.
  const from = Math.floor((up - 4.6) / STEP) * STEP
  const frames = Math.round((up + 5 - from) / STEP)
  return Array.from({ length: frames }, (_, i) => {
    const at = from + i * STEP
    const { cells } = seen(at)
    const said =
      at < up - 3.4
        ? 'Count-in. You have played it clean twice.'
        : at < up
          ? 'You play, eyes on the part.'
          : at < up + 2
            ? 'Right pedal: clean. Three in a row.'
            : 'One rung up. Hands never left the instrument.'
    return { cells, said, down: at >= up && at < up + 0.6 }
  })
}

test('the picture of the README is what the program shows now', async () => {
  const frames = scene()
  const svg = moving(
    frames,
    STEP,
    frames.findIndex(f => f.down),
    'Gradino: a passage is played, the right pedal says clean, and the click moves up a rung, from 132 to 138.',
  )
  await expect(svg).toMatchFileSnapshot('../../docs/pictures/a-rung-up.svg')
})

test('the picture of the practice screen too', async () => {
  const svg = still(
    seen(firstWith('A rung up') - STEP).cells,
    'The practice screen in a repetition: tempo, ladder, row, the strip of the music, and what the pedals do.',
  )
  await expect(svg).toMatchFileSnapshot('../../docs/pictures/practice.svg')
})

// WCAG 2.2, success criterion 2.3.1: a flash is a pair of opposing changes.
test('nothing in it flashes more than three times a second', () => {
  const frames = scene()
  const cell = (cells: Cells, y: number, x: number): string => {
    const c = cells[y]?.[x]
    return `${c?.char}${c?.look}`
  }
  const window = Math.round(1 / STEP)
  let most = 0
  for (let y = 0; y < 24; y++)
    for (let x = 0; x < 80; x++) {
      const changed = frames.map((f, i) => {
        const before = frames[(i || frames.length) - 1] as (typeof frames)[number]
        return cell(f.cells, y, x) === cell(before.cells, y, x) ? 0 : 1
      })
      for (let i = 0; i < changed.length; i++)
        most = Math.max(
          most,
          changed.slice(i, i + window).reduce<number>((a, b) => a + b, 0),
        )
    }
  expect(most).toBeGreaterThan(0)
  expect(most).toBeLessThanOrEqual(6)
})
