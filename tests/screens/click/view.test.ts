import { describe, expect, test } from 'vitest'
import { endless } from '../../../src/click/endless.ts'
import { CLICK_KEYS } from '../../../src/screens/click/key-table.ts'
import { clickOf, newClick, type State } from '../../../src/screens/click/reduce.ts'
import { clickSheet, eyeRow, type Shown, stripRow } from '../../../src/screens/click/view.ts'
import { bigText } from '../../../src/screens/glyphs.ts'
import { keyHints, USUAL_KEYS } from '../../../src/terminal/key-table.ts'
import { meter, RATE, tempoOf } from '../../click/support.ts'
import { drawn } from '../drawn.ts'

const state = (t: string, m: string, more: Partial<State> = {}): State => ({
  ...newClick({ tempo: tempoOf(t), meter: meter(m), subdivide: 1, pulse: null, only: null, countIn: 0 }),
  ...more,
})
/** At so many seconds of the click. */
const shown = (s: State, seconds: number | null = null, more: Partial<Shown> = {}): Shown => ({
  state: s,
  heard:
    seconds === null
      ? null
      : {
          click: clickOf(s),
          program: endless(clickOf(s), RATE, 0).measures(0, 4),
          frame: Math.round(seconds * RATE),
        },
  turning: false,
  sound: 'click mf',
  pedals: 2,
  keys: { right: 'Page Down', left: 'Page Up' },
  hints: keyHints(CLICK_KEYS, 'click', USUAL_KEYS),
  motion: 'step',
  size: { rows: 24, cols: 80 },
  ...more,
})
const rows = (p: Shown): string[] => drawn(clickSheet(p))

describe('the click', () => {
  test('shows tempo, meter, both pedals and the marks beside the tempo', () => {
    const text = rows(shown(state('113', '6/8', { subdivide: 2 }))).join('\n')
    expect(text).toContain('6/8, 2 to the beat')
    for (const row of bigText('113')) expect(text).toContain(row.trimEnd())
    expect(text).toContain('right (Page Down): start   left (Page Up): tap a tempo')
    expect(text).toContain('[ 112   ] 116')
  })

  test('the strip is true to unequal beats, and the mark to what is heard, also where nothing clicks', () => {
    // 7/8 at quarter = 60: beats at 0, 1 and 2 s, a measure lasts 3.5 s.
    const s = state('60', '7/8', { going: true, only: { beats: [1] } })
    const p = shown(s, 3.5 + 2.2)
    const at = stripRow(p) ?? 0
    const all = rows(p)
    expect(all[at]).toMatch(/┃ +│ +[█▐▌]+ .*┃ {2}measure 2$/)
    expect(all[at + 2]).toMatch(/┃1─+2─+3─+┃/)
    // Two sevenths of the measure a beat, by halves of its columns; the mark is two columns wide.
    const inside = /┃(.*)┃/.exec(all[at] ?? '')?.[1] ?? ''
    expect(inside.search(/[█▐]/)).toBe(Math.floor((4 / 7) * inside.length))
    const [gliding = ''] = eyeRow({ ...p, motion: 'glide' }).split('\n')
    expect(gliding.search(/[█▐]/)).toBeGreaterThan((all[at] ?? '').search(/[█▐]/))
    expect(gliding).toHaveLength((all[at] ?? '').length)
  })

  test.each([
    [24, 80],
    [48, 160],
    [36, 120],
    [12, 40],
    [23, 100],
  ])('fits %i rows of %i columns', (r, cols) => {
    for (const s of [
      state('123.45', '4/4', { note: 'The sound is back (naudiodon).' }),
      state('999', '64/64', {
        going: true,
        typing: '123',
        only: { beats: [2], measures: { on: 2, off: 2 } },
      }),
    ]) {
      const all = rows(shown(s, 0.1, { size: { rows: r, cols }, turning: true }))
      expect(all.length).toBeLessThanOrEqual(r)
      for (const row of all) expect(row.length, row).toBeLessThanOrEqual(cols)
    }
  })

  test('in a large window everything is larger', () => {
    const text = rows(shown(state('63.5', '4/4'), null, { size: { rows: 48, cols: 160 } })).join('\n')
    for (const row of bigText('63.5', 16)) expect(text).toContain(row.trimEnd())
  })
})
