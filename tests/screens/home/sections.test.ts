import { describe, expect, test } from 'vitest'
import { tempo } from '../../../src/music/tempo.ts'
import { newState, type State } from '../../../src/screens/home/reduce.ts'
import { homeSheet } from '../../../src/screens/home/view.ts'
import { ALREADY_CUT, CUT_QUESTION } from '../../../src/screens/home/words.ts'
import { opened } from '../controls.ts'
import { drawn } from '../drawn.ts'
import { known, row, sitAt } from './scene.ts'

const section = (n: number, ceiling: number | null) => ({
  ...row(`s${n}`, { ceiling: ceiling ? tempo(ceiling) : null }),
  name: `a1b2c3d4/run/${n}`,
  place: `section ${n}, m. ${40 + n} to ${41 + n}.2`,
})
const cut = row('run at the weir', {
  readyBy: '2026-03-28',
  days: 4,
  sections: [section(1, 126), section(2, 96), section(3, null)],
})
const uncut = row('coda')
const atSections = () => sitAt(newState({ ...known, rows: [cut, uncut] }, false))

const frame = (state: State, cols: number, rows: number): readonly string[] =>
  drawn(homeSheet({ state, size: { rows, cols }, ...opened }))

describe('a passage that is cut into sections', () => {
  test('opens them first, at the first that has not reached its goal', () => {
    const player = atSections()
    player.press('PageDown')
    expect(player.state()).toMatchObject({ view: 'sections', part: 1 })
    player.press('PageDown')
    expect(player.effects).toMatchObject([
      { kind: 'go', to: { kind: 'practice', row: { name: 'a1b2c3d4/run/2' } } },
    ])
  })

  test('by the left pedal alone: the other sections, the whole passage, the way back, and round again', () => {
    const player = atSections()
    player.press('PageDown', 'PageUp', 'PageUp', 'PageDown')
    expect(player.effects).toMatchObject([{ to: { kind: 'practice', row: { place: 'run at the weir' } } }])
    player.press('PageUp', 'PageDown')
    expect(player.state().view).toBe('list')
    player.press('PageDown', 'PageUp', 'PageUp', 'PageUp', 'PageUp')
    expect(player.state().part).toBe(0)
  })

  test('after a visit to a section its lines are there again, with the same one chosen', () => {
    const player = atSections()
    player.press('Enter', 'Down', 'Enter')
    player.act({ kind: 'known', known: { ...known, rows: [uncut, cut] }, note: '' })
    expect(player.state()).toMatchObject({ view: 'sections', part: 2 })
    expect(player.chosen()).toBe('run at the weir')
  })

  test('e changes the passage on the list, and the section among the sections', () => {
    const player = atSections()
    player.press('e', 'Enter', 'e')
    expect(player.effects).toMatchObject([
      { to: { kind: 'edit', row: { place: 'run at the weir' } } },
      { to: { kind: 'edit', row: { name: 'a1b2c3d4/run/2' } } },
    ])
  })

  test('is not cut again by a key', () => {
    const player = atSections()
    player.press('c')
    expect(player.state()).toMatchObject({ view: 'list', note: ALREADY_CUT })
  })

  test('shows a line each with its numbers, where it is, and the way back', () => {
    const player = atSections()
    player.press('Enter')
    const shown = frame(player.state(), 80, 24)
    expect(shown.filter(r => /section 1, m\. 41 to 42\.2[ .]+about 76 +126 +126/.test(r))).toHaveLength(1)
    expect(shown.filter(r => r.startsWith('║: '))).toEqual([expect.stringContaining('section 2')])
    expect(shown.join('\n')).toMatch(/the whole passage.*back to the repertoire/s)
    for (const size of [
      [80, 24],
      [160, 48],
      [40, 12],
    ] as const) {
      const rows = frame(player.state(), size[0], size[1])
      expect(rows.length).toBeLessThanOrEqual(size[1])
      expect(rows.join('\n')).toContain('section 2')
      for (const r of rows) expect(r.length).toBeLessThanOrEqual(size[0])
    }
  })
})

describe('a passage that is not cut', () => {
  test('is cut by c and one more key', () => {
    const player = atSections()
    player.press('Down', 'c')
    expect(frame(player.state(), 80, 24).join('\n')).toContain(CUT_QUESTION.slice(0, 40))
    player.press('h')
    expect(player.effects).toMatchObject([
      { kind: 'go', to: { kind: 'cut', by: 'half', row: { place: 'coda' } } },
    ])
  })

  test.each(['Escape', 'x', 'PageDown', 'PageUp'])('%s instead leaves it as it is', key => {
    const player = atSections()
    player.press('Down', 'c', key)
    expect(player.state().view).toBe('list')
    expect(player.effects).toEqual([])
  })
})
