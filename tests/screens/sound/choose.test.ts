import { describe, expect, test } from 'vitest'
import { DEFAULT_LEVELS, DYNAMICS } from '../../../src/click/voices.ts'
import {
  changed,
  levelOf,
  moved,
  ROWS,
  rowLine,
  type SoundChoice,
  sample,
} from '../../../src/screens/sound/choose.ts'

const start: SoundChoice = { levels: DEFAULT_LEVELS, row: 'character' }
const on = (row: SoundChoice['row']): SoundChoice => ({ ...start, row })

describe('the click, by ear', () => {
  test('the click goes around, and comes back', () => {
    const once = changed(start, 1)
    expect(once.levels.character).toBe('bright')
    expect(changed(changed(once, 1), 1)).toEqual(start)
    expect(changed(start, -1).levels.character).toBe('unpitched')
  })

  test('each role and the whole have every dynamic from off to ff, and end there', () => {
    for (const row of ROWS) {
      if (row === 'character') continue
      let c = on(row)
      for (let i = 0; i < 6; i++) c = changed(c, -1)
      const seen = [levelOf(c, row)]
      for (let i = 0; i < 6; i++) {
        c = changed(c, 1)
        if (levelOf(c, row) !== seen.at(-1)) seen.push(levelOf(c, row))
      }
      expect(seen).toEqual([...DYNAMICS])
    }
  })

  test('the lines stand still at both ends, and every one fits 80 columns', () => {
    expect(moved(start, -1).row).toBe('character')
    expect(ROWS.reduce(c => moved(c, 1), start).row).toBe('breath')
    for (const row of ROWS) expect(rowLine(on(row), row).length).toBeLessThan(78)
  })

  test('what is chosen is heard: the sample of a row has its role', () => {
    for (const row of ROWS) {
      const roles = sample(row, 48_000).onsets.map(o => o.role)
      if (row === 'character' || row === 'master') expect(roles).toContain('downbeat')
      else expect(roles).toContain(row)
      const frames = sample(row, 48_000).onsets.map(o => o.frame)
      expect(frames).toEqual([...frames].sort((a, b) => a - b))
    }
  })
})
