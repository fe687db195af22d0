import { describe, expect, test } from 'vitest'
import { CLICK_KEYS } from '../../src/screens/click/key-table.ts'
import { clickHelp } from '../../src/screens/click/screen.ts'
import { type Chapter, helpLines, helpPages, helpSheet } from '../../src/screens/help.ts'
import { HOME_KEYS } from '../../src/screens/home/key-table.ts'
import { homeHelp } from '../../src/screens/home/spoken.ts'
import { HELP_ROW } from '../../src/screens/key-rows.ts'
import { covered } from '../../src/screens/overlay.ts'
import { PRACTICE_KEYS } from '../../src/screens/practice/key-table.ts'
import { practiceHelp } from '../../src/screens/practice/spoken.ts'
import { READING_KEYS } from '../../src/screens/reading/key-table.ts'
import { readingHelp } from '../../src/screens/reading/screen.ts'
import { DAY_KEYS } from '../../src/screens/today/key-table.ts'
import { dayHelp } from '../../src/screens/today/view.ts'
import { WARM_UP_KEYS } from '../../src/screens/warmup/key-table.ts'
import { warmUpHelp } from '../../src/screens/warmup/screen.ts'
import { ALL_CAUTIONS } from '../../src/screens/words.ts'
import { type Controls, type KeyTable, USUAL_KEYS } from '../../src/terminal/key-table.ts'
import type { Terminal } from '../../src/terminal/open-terminal.ts'
import type { ScreenRun } from '../../src/terminal/run-screen.tsx'
import { ONE, TWO } from './controls.ts'
import { drawn } from './drawn.ts'

type Screen = readonly [what: string, help: (c: Controls) => readonly Chapter[], keys: KeyTable<unknown>]
const SCREENS: readonly Screen[] = [
  ['practice', practiceHelp, PRACTICE_KEYS],
  ['click', clickHelp, CLICK_KEYS],
  ['reading', readingHelp, READING_KEYS],
  ['warm-up', warmUpHelp, WARM_UP_KEYS],
  ['the list', homeHelp, HOME_KEYS],
  ['the day', dayHelp, DAY_KEYS],
]
const SIZES = [
  { rows: 24, cols: 80 },
  { rows: 14, cols: 50 },
  { rows: 12, cols: 40 },
]

describe.each(SCREENS)('the help: %s', (_, help, table) => {
  test('names every character that does something there, and the keys as the player changed them', () => {
    const named = (c: Controls): string =>
      helpLines(help(c))
        .map(l => l.split(':')[0])
        .join(' ')
    // How a passage is cut is asked by a question that names its keys.
    const characters = table
      .filter(r => r.on?.[0] !== 'cut')
      .flatMap(r => r.keys)
      .filter(k => [...k].length === 1 && !/[\d.]/.test(k))
    expect(characters).toContain('?')
    for (const key of characters) expect(named(TWO).split(' '), key).toContain(key)
    const own = { ...TWO, choice: { ...USUAL_KEYS, keys: { help: 'F7' } } }
    expect(named(own)).toContain('F7')
  })

  test('ends with every caution, in any window, and no row is cut', () => {
    for (const size of SIZES)
      for (const c of [ONE, TWO]) {
        const pages = helpPages(help(c), size)
        const words = pages.flat().join(' ').replaceAll(/\s+/g, ' ')
        for (const caution of ALL_CAUTIONS) expect(words).toContain(caution)
        pages.forEach((page, at) => {
          const rows = drawn(helpSheet(pages, at, size))
          expect(rows.length).toBeLessThanOrEqual(size.rows)
          for (const row of page) expect(rows.map(r => r.trim())).toContain(row.trim())
        })
      }
  })
})

describe('a help lies over its screen and does not stop it', () => {
  type Counted = { readonly presses: number; readonly sounds: boolean; readonly offers: boolean }
  const keys: KeyTable<{ readonly kind: 'louder' }> = [
    { name: 'the right pedal', keys: ['PageDown'], foot: 'right', pedal: 'any' },
    HELP_ROW,
    { name: 'louder', keys: ['+'], does: { kind: 'louder' }, help: 'louder' },
  ]
  const made = (sounds: boolean, speaks = false) => {
    const said: string[] = []
    const terminal = { ink: speaks ? null : {}, size: () => ({ rows: 24, cols: 80 }) } as Terminal
    const screen = covered<Counted, 'press' | 'quit' | 'offer', never, null>(
      { terminal, controls: TWO },
      {
        state: { presses: 0, sounds, offers: false },
        reduce: (s, a) => ({
          state: a === 'offer' ? { ...s, offers: true } : { ...s, presses: s.presses + 1 },
          effects: [],
        }),
        key: () => 'press',
        perform: () => {},
        shows: s => String(s.offers),
        view: () => [[{ text: 'the music' }]],
        topics: () => ({}),
      },
      {
        chapters: [{ title: 'The keys', entries: [['+', 'louder']] }],
        table: keys,
        sounds: s => s.sounds,
      },
    )
    let state = screen.state
    const run = {
      state: () => state,
      act: (a: Parameters<typeof screen.reduce>[1]) => {
        state = screen.reduce(state, a).state
      },
      line: (text: string) => said.push(text),
    } as unknown as ScreenRun<typeof state, Parameters<typeof screen.reduce>[1], null>
    return {
      key: (id: string) => {
        const action = screen.key(state, { id, at: 0 }, run)
        if (action) run.act(action)
      },
      offer: () => run.act({ kind: 'screen', action: 'offer' }),
      presses: () => state.screen.presses,
      open: () => state.page !== null,
      rows: () => drawn(screen.view(state, run)).join('\n'),
      said,
    }
  }

  test('it opens and closes, and the key that closes it does nothing else', () => {
    const s = made(false)
    s.key('?')
    expect(s.rows()).toContain('louder')
    s.key('+')
    expect(s.rows()).toContain('the music')
    expect(s.presses()).toBe(0)
  })

  test('while something sounds a pedal is a pedal under the help; in silence it only closes it', () => {
    const sounding = made(true)
    sounding.key('?')
    sounding.key('PageDown')
    expect([sounding.presses(), sounding.open()]).toEqual([1, true])
    const silent = made(false)
    silent.key('?')
    silent.key('PageDown')
    expect([silent.presses(), silent.open()]).toEqual([0, false])
  })

  test('Ctrl+C is not swallowed, and a question that comes up is not hidden', () => {
    const s = made(false)
    s.key('?')
    s.key('C-c')
    expect(s.presses()).toBe(1)
    expect(s.open()).toBe(true)
    s.offer()
    expect(s.open()).toBe(false)
  })

  test('where lines are said it is said, and the next key counts', () => {
    const s = made(false, true)
    s.key('?')
    expect(s.said).toContain('+: louder.')
    for (const caution of ALL_CAUTIONS) expect(s.said.join(' ')).toContain(caution)
    s.key('+')
    expect(s.presses()).toBe(1)
  })
})
