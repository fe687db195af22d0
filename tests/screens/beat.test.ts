import { describe, expect, test } from 'vitest'
import type { Beat } from '../../src/click/program.ts'
import { frac } from '../../src/music/fraction.ts'
import { parseMeter } from '../../src/music/meter.ts'
import { FASTEST, SLOWEST } from '../../src/music/tempo.ts'
import { beatRow, beatRows, moves } from '../../src/screens/beat.ts'
import { bigText } from '../../src/screens/glyphs.ts'
import { must } from './practice/stage.ts'

const RATE = 48_000
const METERS = [1, 2, 3, 4, 5, 6, 7, 9, 12]
const TEMPOS = Array.from({ length: FASTEST - SLOWEST + 1 }, (_, i) => SLOWEST + i)

/** So many measures of a meter, beat by beat. */
const played = (bpm: number, count: number, measures: number): readonly Beat[] =>
  Array.from({ length: count * measures }, (_, i) => ({
    frame: Math.round((i * 60 * RATE) / bpm),
    measure: 1 + Math.floor(i / count),
    beat: 1 + (i % count),
  }))

/** The most flashes of any cell in any second: a flash is a pair of opposing changes (WCAG 2.2, "flash"). */
const flashes = (pictures: readonly (readonly [seconds: number, picture: string])[]): number => {
  const changes = new Map<number, number[]>()
  pictures.forEach(([t, picture], k) => {
    const before = pictures[k - 1]?.[1]
    if (before === undefined || before === picture) return
    for (let i = 0; i < picture.length; i++)
      if (picture[i] !== before[i]) changes.set(i, [...(changes.get(i) ?? []), t])
  })
  const most = [...changes.values()].map(all =>
    Math.max(...all.map((t, i) => all.slice(i).filter(u => u < t + 1 - 1e-6).length)),
  )
  return Math.max(0, ...most) / 2
}

describe('WCAG 2.2, success criterion 2.3.1: nothing flashes more than three times in any second', () => {
  test('at every tempo and meter that is taken: the mark is at a place, and a number there, three times a second at most', () => {
    for (const bpm of TEMPOS)
      for (const count of METERS) {
        const { mark, number } = moves('glide', played(bpm, count, 40), RATE)
        const [measure, beat] = [(60 * count) / bpm, 60 / bpm]
        if (mark !== 'still') expect(1 / measure, `${count} at ${bpm}`).toBeLessThanOrEqual(3 + 1e-9)
        if (number) expect(1 / (2 * beat), `${count} at ${bpm}`).toBeLessThanOrEqual(3 + 1e-9)
        // Where it is allowed, it does move.
        if (1 / measure < 2.99) expect(mark, `${count} at ${bpm}`).toBe('glide')
        if (1 / (2 * beat) < 2.99) expect(number, `${count} at ${bpm}`).toBe(true)
      }
  })

  test('two beats above 360 a minute are over it: the mark stands', () => {
    expect(moves('glide', played(360, 2, 20), RATE).mark).toBe('glide')
    expect(moves('glide', played(361, 2, 20), RATE).mark).toBe('still')
  })

  test('drawn, cell by cell, also near the limits', () => {
    for (const [bpm, count] of [
      [60, 4],
      [208, 4],
      [208, 2],
      [180, 1],
      [359, 2],
      [360, 2],
      [361, 2],
      [540, 3],
      [720, 4],
      [999, 5],
    ] as const) {
      const beats = played(bpm, count, 24)
      const can = moves('glide', beats, RATE)
      const meter = must(parseMeter(`${count}/4`))
      const row = beatRow(meter, frac(1, 4), 54)
      const pictures = Array.from({ length: 250 }, (_, k) => {
        const t = k / 125
        const at = ((t * bpm) / 60) % count
        const rows = beatRows(row, can.mark === 'still' ? null : at / count, 3)
        const number = can.number ? bigText(String(1 + Math.floor(at)), 3) : []
        return [t, [...rows, ...number.map(r => r.padEnd(12))].join('')] as const
      })
      // A cell that the mark leaves by halves changes in between, toward the same end.
      const whole = pictures.map(([t, p]) => [t, p.replaceAll(/[▐▌█▀▄]/g, '█')] as const)
      expect(flashes(whole), `${count}/4 at ${bpm}`).toBeLessThanOrEqual(3)
    }
  })

  test('in a measure that changes its length the shortest ones count', () => {
    const beats = [...played(120, 4, 1), ...played(480, 1, 12).map(b => ({ ...b, frame: b.frame + 96_000 }))]
    expect(
      moves(
        'glide',
        beats.map((b, i) => ({ ...b, measure: i < 4 ? 1 : i })),
        RATE,
      ).mark,
    ).toBe('still')
  })
})

describe('less motion', () => {
  const beats = played(120, 4, 8)
  test('from beat to beat, or none at all', () => {
    expect(moves('step', beats, RATE)).toEqual({ mark: 'step', number: true })
    expect(moves('still', beats, RATE)).toEqual({ mark: 'still', number: false })
  })
})

describe('the mark between the beats', () => {
  test('stands in eight places or more within a beat: 80 columns up to twelve beats, 40 columns up to eight', () => {
    for (const [width, most] of [
      [55, 12],
      [37, 8],
    ] as const)
      for (let count = 1; count <= most; count++) {
        const meter = must(parseMeter(`${count}/8`))
        const row = beatRow(meter, frac(1, 8), width)
        for (let beat = 0; beat < count; beat++) {
          const places = new Set(
            Array.from({ length: 100 }, (_, i) => beatRows(row, (beat + i / 100) / count, 2)[0]),
          )
          expect(places.size, `${count} beats, the ${beat + 1}.`).toBeGreaterThanOrEqual(8)
        }
      }
  })

  test('keeps the rows as wide as they are, and the bar lines where they are', () => {
    const meter = must(parseMeter('4/4'))
    const row = beatRow(meter, frac(1, 4), 54)
    for (let i = 0; i <= 100; i++)
      for (const rows of [1, 2, 3, 6])
        for (const text of beatRows(row, i / 100, rows)) {
          expect([...text]).toHaveLength(54)
          expect(text).toMatch(/^┃.*┃$/)
        }
  })
})
