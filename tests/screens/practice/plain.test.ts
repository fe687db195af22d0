import { expect, test } from 'vitest'
import { DEFAULT_LEVELS, type Levels } from '../../../src/click/voices.ts'
import { keyLock } from '../../../src/screens/practice/key-lock.ts'
import { practiceScreen } from '../../../src/screens/practice/screen.ts'
import type { Sound } from '../../../src/sound/sound.ts'
import { pedalLock } from '../../../src/terminal/lock.ts'
import type { PlainTerminal } from '../../../src/terminal/open-plain.ts'
import { TWO } from '../controls.ts'
import { stage } from './stage.ts'

/** The lines of a visit, and a hand on the keyboard. */
const lines = async () => {
  const said: string[] = []
  const kept: string[] = []
  let key: (id: string) => void = () => {}
  const s = await stage()
  const terminal = {
    line: (text: string) => void said.push(text),
    typing: () => {},
    ink: null,
    size: () => ({ rows: 24, cols: 80 }),
    onResize: () => () => {},
    onKey: (f: (key: { id: string; at: number }) => void) => {
      key = id => f({ id, at: s.clock.now() })
      return () => {}
    },
  } as unknown as PlainTerminal
  const levels: Levels[] = []
  const sound = {
    ready: async () => {},
    output: () => 'naudiodon',
    absent: () => null,
    levels: (l: Levels) => void levels.push(l),
  } as unknown as Sound
  void practiceScreen({
    terminal,
    timing: s.clock,
    controls: TWO,
    lock: pedalLock(),
    motion: 'glide',
    sound,
    levels: DEFAULT_LEVELS,
    louder: () => {},
    wrong: {
      names: ['notes', 'rhythm', 'breath', 'sound'],
      keep: async what => {
        kept.push(what)
        return `Noted: ${what}.`
      },
    },
    frame: {
      title: 'Weir Street Overture   m. 41-42',
      date: '',
      music: '',
      cold: '',
      coldIsOpen: false,
      earlier: { clean: 0, verdicts: 0 },
    },
    conductor: changed => {
      s.onChange(changed)
      return s.conductor
    },
    ending: async () => ({ tomorrow: null, pain: false, cautions: [] }),
    keyLock: keyLock(false),
  })
  await s.clock.run(0)
  const type = async (id: string): Promise<void> => {
    key(id)
    await s.clock.run(0)
    await s.conductor.settled()
    await s.clock.run(0)
  }
  return { s, said, kept, levels, type }
}

test('without a screen the loudness is said and can be changed', async () => {
  const { said, levels, type } = await lines()
  expect(said).toContain(`The click is ${DEFAULT_LEVELS.master}.`)
  await type('-')
  expect(levels).toHaveLength(1)
  expect(said.at(-1)).toBe(`The click is ${levels[0]?.master}.`)
})

test('without a screen keys say what went wrong too, and are told once in a visit', async () => {
  const { s, said, kept, type } = await lines()
  // Digits are a tempo, before a slip and after it.
  for (const id of ['1', '0', '4', 'Escape']) await type(id)
  await type('B')
  expect(kept).toEqual([])
  for (const [id, what] of [
    ['B', 'breath'],
    ['N', 'notes'],
  ] as const) {
    await s.clock.run(900)
    await s.press('right')
    await s.press('left', 'middle')
    await type('1')
    await type('Escape')
    await type(id)
    expect(said.at(-1)).toBe(`Noted: ${what}.`)
    await type('w')
  }
  expect(kept).toEqual(['breath', 'notes'])
  expect(said.filter(l => l.startsWith('What went wrong?'))).toEqual([
    'What went wrong? N notes, R rhythm, B breath, S sound.',
  ])
})
