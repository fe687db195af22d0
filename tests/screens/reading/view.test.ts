import { describe, expect, test } from 'vitest'
import { bigText } from '../../../src/screens/glyphs.ts'
import { READING_KEYS } from '../../../src/screens/reading/key-table.ts'
import { newReading, type State } from '../../../src/screens/reading/reduce.ts'
import { field, readingSheet, type Shown } from '../../../src/screens/reading/view.ts'
import { pedalHint } from '../../../src/screens/reading/words.ts'
import { layoutOf } from '../../../src/screens/sizes.ts'
import { keyHints, USUAL_KEYS } from '../../../src/terminal/key-table.ts'
import { drawn } from '../drawn.ts'
import { passage, passOf } from './scene.ts'

const PEDALS = { right: 'Page Down', left: 'Page Up' }
const reading = newReading([passOf(passage({ breaths: [{ at: '43.3', kind: 'breath' }] }))])
const shown = (change: Partial<State> = {}, more: Partial<Shown> = {}): Shown => ({
  state: { ...reading, ...change },
  frame: null,
  sound: 'click mf',
  pedals: pedalHint(change.phase ?? 'ready', 2, PEDALS),
  keys: keyHints(READING_KEYS, change.phase ?? 'ready', USUAL_KEYS),
  motion: 'step',
  size: { rows: 24, cols: 80 },
  ...more,
})
const rows = (p: Shown): string[] => drawn(readingSheet(p).rows)
/** The frame in which a beat of a measure (by its printed number) begins. */
const frameOf = (measure: number, beat: number): number =>
  passOf().program.onsets.find(o => o.measure === measure - 40 && o.beat === beat)?.frame ?? -1

const SIZES = [
  [24, 80],
  [48, 160],
  [36, 120],
  [12, 40],
  [20, 79],
] as const

describe('the reading', () => {
  /** The rows of the beat, top first. */
  const beat = (p: Shown): string[] => {
    const at = readingSheet(p).beatAt ?? 0
    return rows(p).slice(at, at + 3)
  }
  /** Column of the mark. */
  const mark = (row = ''): number => row.search(/[█▐]/)

  test('shows the beat that is heard, its measure among all, and the next breath before it comes', () => {
    const p = shown({ phase: 'going' }, { frame: frameOf(42, 3) + 100 })
    const [first, second, foot] = beat(p)
    expect(first).toMatch(/^ {2}┃ .*┃ {2}measure 2 of 8$/)
    expect(second).toMatch(/┃ {2}breath 43.3$/)
    expect(foot).toMatch(/^ {2}┃1─+2─+3─+4─+┃$/)
    // At the third of four beats.
    expect(mark(first)).toBe((foot ?? '').indexOf('3'))
    const sign = bigText('3', 3)
    for (const row of sign) expect(rows(p).join('\n')).toContain(row.trimEnd())
    expect(beat(shown({ phase: 'going' }, { frame: frameOf(43, 1) + 100 }))[2]).toMatch(/,3/)
  })

  test('the gliding mark is between two beats half a beat later, in the rows of the beat', () => {
    const half = (frameOf(42, 3) + frameOf(42, 4)) / 2
    const p = shown({ phase: 'going' }, { frame: half })
    const l = layoutOf(p.size)
    if (!l) throw new Error('too small')
    const [row = ''] = field({ ...p, motion: 'glide' }, l)
    const foot = beat(p)[2] ?? ''
    expect(mark(row)).toBeGreaterThan(foot.indexOf('3'))
    expect(mark(row)).toBeLessThan(foot.indexOf('4'))
    expect(mark(field({ ...p, motion: 'still' }, l)[0])).toBe(-1)
  })

  test('the number of the measure and its beat grow with the window', () => {
    for (const [r, cols] of [
      [30, 100],
      [36, 120],
      [48, 160],
    ] as const) {
      const p = shown({ phase: 'going' }, { frame: frameOf(42, 3) + 100, size: { rows: r, cols } })
      const l = layoutOf(p.size)
      const text = rows(p).join('\n')
      for (const row of [...bigText('42', l?.tempo), ...bigText('3', l?.sign)])
        expect(text).toContain(row.trimEnd())
    }
  })

  test('asks with the sections and what they come from; many are counted', () => {
    const marks = [
      { measure: 2, beat: 3 },
      { measure: 5, beat: 1 },
    ]
    const one = rows(shown({ phase: 'offer', marks })).join('\n')
    expect(one).toContain('Store these as sections?')
    expect(one).toMatch(/m\. 42-43\n +m\. 45-46\n +marked: m\. 43, beat 3; m\. 46, beat 1/)
    const long = passOf(passage({ measures: '1-90', count: 90 }))
    const all = Array.from({ length: 29 }, (_, i) => ({ measure: 2 + 3 * i, beat: 1 }))
    const text = rows(shown({ passes: [long], phase: 'offer', marks: all })).join('\n')
    expect(text).toContain('and 19 more')
  })

  test('a measure without a number is named in letters', () => {
    const numbers = ['41', '42', '43', '44', '45', 'X1', 'X2', '46']
    const p = shown({ passes: [passOf(passage({ numbers }))], phase: 'going' }, { frame: frameOf(46, 1) })
    expect(rows(p).join('\n')).toContain('measure X1')
  })

  test.each(SIZES)('fits %i rows of %i columns in every phase', (r, cols) => {
    const marks = Array.from({ length: 8 }, (_, measure) => ({ measure, beat: 4 })).filter(m => m.measure % 3)
    for (const phase of ['ready', 'going', 'offer', 'storing'] as const) {
      const p = shown(
        { phase, marks, note: 'Hard spot: m. 43, beat 2.' },
        { frame: phase === 'going' ? frameOf(45, 2) : null, size: { rows: r, cols } },
      )
      const all = rows(p)
      expect(all.length, phase).toBeLessThanOrEqual(r)
      for (const row of all) expect(row.length, row).toBeLessThanOrEqual(cols)
    }
  })

  test('below 40x12 one sentence', () => {
    expect(rows(shown({}, { size: { rows: 11, cols: 60 } })).join(' ')).toContain('The window is too small')
  })
})
