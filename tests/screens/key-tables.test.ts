import { describe, expect, test } from 'vitest'
import { changedKey, KEY_TABLES, takenFor } from '../../src/screens/key-tables.ts'
import { learnPedals } from '../../src/screens/setup/setup.ts'
import { keyHelp, keyHints, keysOf, opens, pressed, USUAL_KEYS } from '../../src/terminal/key-table.ts'
import { ONE, TWO } from './controls.ts'

const rows = Object.entries(KEY_TABLES).flatMap(([screen, table]) => table.map(row => ({ screen, row })))
const OPEN = [...new Set(rows.flatMap(({ row }) => row.on ?? []))]
/** What the learning of a right pedal says to three presses of a key. */
const taught = (id: string): string => {
  const setup = learnPedals(0, TWO)
  for (let t = 1000; t <= 4000; t += 1000) setup.key({ id, at: t })
  return setup.state().said.join(' ')
}

describe('one table of keys for every screen', () => {
  test('a key that means something on any screen can’t be a pedal, and one that means nothing can', () => {
    const taken = takenFor('right', USUAL_KEYS)
    for (const { row } of rows)
      for (const key of keysOf(row, USUAL_KEYS))
        expect(key in taken || row.pedal !== undefined, `${row.name}: ${key}`).toBe(true)
    // f leaves the learning itself.
    for (const key of Object.keys(taken).filter(k => k !== 'f'))
      expect(taught(key), key).toMatch(/is used here|can't/)
    const used = new Set(rows.flatMap(({ row }) => row.keys))
    for (const key of [
      'F13',
      'F5',
      'a',
      'v',
      'x',
      'z',
      'A',
      '#',
      'Insert',
      'media-next',
      'Space',
      'PageDown',
      'Left',
      'Up',
    ])
      if (!used.has(key) || !(key in taken)) expect(taught(key), key).not.toContain('is used here')
  })

  test('no key means two things where the same lies open', () => {
    for (const [screen, table] of Object.entries(KEY_TABLES))
      for (const on of [...OPEN, ''])
        for (const key of new Set(table.flatMap(r => r.keys))) {
          const here = table.filter(r => (!r.on || r.on.includes(on)) && r.keys.includes(key))
          // What is being typed is finished first; and a thing may have another word where something else lies open.
          const names = new Set(here.filter(r => !r.first && !('foot' in r)).map(r => r.name))
          expect(names.size, `${screen}, ${on}: ${key} is ${[...names].join(' and ')}`).toBeLessThanOrEqual(1)
        }
  })

  test('another key takes the place of the usual one in the key, the hint and the help; an empty one takes it away', () => {
    const own = { ...TWO, choice: { keys: { 'take back': 'z', wait: '' }, letters: true } }
    const table = KEY_TABLES.practice ?? []
    expect(pressed(table, 'ladder', 'z', own)).toMatchObject({ does: { action: { kind: 'takeBack' } } })
    expect(pressed(table, 'ladder', 't', own)).toBeNull()
    expect(pressed(table, 'ladder', 'w', own)).toBeNull()
    expect(keyHints(table, 'ladder', own.choice)).toContain('z take back')
    expect(keyHints(table, 'ladder', own.choice).join()).not.toContain('wait')
    expect(keyHelp(table, own.choice)).toContainEqual(['z', 'take back the latest verdict'])
    expect(takenFor('right', own.choice)).toMatchObject({ z: 'take back' })
    expect(takenFor('right', own.choice).w).toBeUndefined()
  })

  test('single characters can be switched off: then they count with Alt alone, on every screen (WCAG 2.2, 2.1.4)', () => {
    const off = { ...TWO, choice: { keys: {}, letters: false } }
    for (const { screen, row } of rows)
      for (const key of row.keys.filter(k => [...k].length === 1)) {
        const on = row.on?.[0] ?? ''
        const table = KEY_TABLES[screen] ?? []
        const counts = (id: string): boolean =>
          pressed(table, on, id, off) !== null || opens(table, on, id, off) !== null
        expect(counts(key), `${screen}: ${key}`).toBe(false)
        expect(counts(`M-${key}`), `${screen}: Alt+${key}`).toBe(true)
      }
    expect(keyHints(KEY_TABLES.practice ?? [], 'ladder', off.choice)[0]).toBe('with Alt:')
    // A pedal that sends a letter stays a pedal.
    expect(pressed(KEY_TABLES.practice ?? [], 'ladder', 'x', { ...off, right: 'x' })).toEqual({
      kind: 'pedal',
      pedal: 'right',
    })
  })

  test('one key opens a note on every screen; a pedal, and what the player gave the key to do, come first', () => {
    for (const [screen, table] of Object.entries(KEY_TABLES)) {
      const on = table.find(r => 'opens' in r)?.on?.[0] ?? ''
      expect(opens(table, on, 'n', TWO), screen).toBe('note')
      expect(opens(table, on, 'n', { ...TWO, right: 'n' }), screen).toBeNull()
      const other = { ...TWO, choice: { keys: { note: 'F5' }, letters: true } }
      expect([opens(table, on, 'n', other), opens(table, on, 'F5', other)], screen).toEqual([null, 'note'])
    }
    const practice = KEY_TABLES.practice ?? []
    const own = { ...TWO, choice: { keys: { 'take back': 'n' }, letters: true } }
    expect(opens(practice, 'ladder', 'n', own)).toBeNull()
    expect(changedKey('take back=n', TWO).ok).toBe(false)
    expect(changedKey('note=z', TWO)).toMatchObject({ ok: true, value: { note: 'z' } })
  })

  test('a key is changed by what it does; one that means something else there, or is a pedal, is refused', () => {
    expect(changedKey('take back=z', TWO)).toMatchObject({ ok: true, value: { 'take back': 'z' } })
    expect(changedKey('take back=', TWO)).toMatchObject({ ok: true, value: { 'take back': '' } })
    const own = { ...TWO, choice: { keys: { 'take back': 'z' }, letters: true } }
    expect(changedKey('take back=usual', own)).toMatchObject({ ok: true, value: {} })
    for (const typed of ['take back=w', 'take back=PageDown', 'dance=z', 'z'])
      expect(changedKey(typed, TWO).ok, typed).toBe(false)
  })

  test('what goes wrong and a tempo by hand never share a key', () => {
    const table = KEY_TABLES.practice ?? []
    const wrongs = table.filter(r => r.name.endsWith('went wrong')).flatMap(r => r.keys)
    const tempo = table.filter(r => r.name === 'a tempo by hand').flatMap(r => r.keys)
    expect(wrongs).toHaveLength(4)
    expect(wrongs.filter(k => tempo.includes(k))).toEqual([])
  })

  test('where the pedals are, pedals count; with one pedal the other key is none', () => {
    const table = KEY_TABLES.practice ?? []
    expect(pressed(table, 'ladder', 'x', { ...ONE, left: 'x' })).toBeNull()
    expect(pressed(table, 'ladder', 'x', { ...TWO, left: 'x' })).toEqual({ kind: 'pedal', pedal: 'left' })
  })
})
