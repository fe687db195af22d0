import { execFileSync, spawn } from 'node:child_process'
import { cpSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest'
import { alive } from '../sound/breaking.ts'
import { processes } from '../sound/processes.ts'
import { missing, startPulse } from '../sound/pulse.ts'
import { UNTOUCHED } from '../terminal/headless.ts'
import { type Pty, startInPty } from '../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../dist/main.js')
const AT = { GRADINO_NOW: '2031-03-15T12:00:00Z', CI: 'true' }
const RUN = 'Weir Street Overture/run at the weir'

let home = ''
let scratch = ''
beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), 'gradino-way-out-'))
  home = join(scratch, 'home')
  const add = ['piece', 'add', 'Weir Street Overture', '--passage', 'run at the weir', '--in', '41-44']
  for (const args of [
    [...add, '--goal', '138', '--start', '96'],
    ['piece', 'split', RUN, '--by', 'measure'],
  ])
    execFileSync(process.execPath, [MAIN, '--home', home, ...args], { env: { ...process.env, ...AT } })
})
afterAll(() => rmSync(scratch, { recursive: true, force: true }))

let pty: Pty
afterEach(() => pty.dispose())

/** What is pressed on the way to a screen, and what is seen then. */
type Way = readonly (readonly [keys: string, seen: RegExp])[]
const START = '\x1b[6~'
const REST: Way = [
  ['4', /Rest/],
  ['\r', /5 minutes left/],
]

/** Every screen, what it shows when it is ready, and how one comes to it from there. */
const SCREENS: readonly (readonly [name: string, args: readonly string[], ready: RegExp, way: Way])[] = [
  ['the day', [], /run at the weir/, []],
  ['practice', ['practice', RUN], /either pedal/, []],
  ['the click', ['click'], /quarter/, []],
  ['the reading', ['read', RUN], /reading|press/i, []],
  ['the form', ['piece', 'edit', RUN], /name +run/, []],
  ['a warm-up', ['warmup'], /press|pedal|clean/i, []],
  ['set-up', ['setup'], /pedal/, []],
  ['the click by ear', ['sound', '--choose'], /by ear/, []],
  ['the rest', [], /run at the weir/, REST],
  [
    'the closing view',
    ['practice', RUN],
    /either pedal/,
    [
      [START, /count-in/],
      ['f', /key closes/],
    ],
  ],
  ['the day by lines', ['--plain'], /4: Rest/, []],
  ['the pieces by lines', ['--plain'], /4: Rest/, [['p', /1 passage|one passage/]]],
  ['the form by lines', ['piece', 'edit', RUN, '--plain'], /name, 1 of/, []],
  ['practice by lines', ['practice', RUN, '--plain'], /either pedal/, []],
  ['the rest by lines', ['--plain'], /4: Rest/, REST],
  ['the click by lines', ['click', '--plain'], /quarter/, []],
  ['the reading by lines', ['read', RUN, '--plain'], /reading|press/i, []],
  ['a warm-up by lines', ['warmup', '--plain'], /press|pedal|clean/i, []],
  ['set-up by lines', ['setup', '--plain'], /pedal/, []],
  ['the click by ear, by lines', ['sound', '--choose', '--plain'], /by ear/, []],
]

/** The same bytes in every run (a linear congruential generator), Ctrl+C among them as often as chance has it. */
const noise = (length: number): Buffer => {
  let x = 20_310_315
  const next = (): number => {
    x = (Math.imul(x, 1_664_525) + 1_013_904_223) >>> 0
    return x >>> 24
  }
  return Buffer.from(Array.from({ length }, next))
}
/**
 * Without Ctrl+C and the keys that leave, since behind them it would be the shell that hears Ctrl+C. Where lines are said
 * Escape leaves too.
 */
const flood = (leaves: string): Buffer => {
  const left = Buffer.from(`\x03\x1a\x1cfq\r\n${leaves}`)
  return Buffer.from(noise(1_000_000).filter(b => !left.includes(b)))
}
const FLOOD = flood('')
const SAID = flood('\x1b')

const open = async (
  args: readonly string[],
  ready: RegExp,
  way: Way = [],
  env: Record<string, string | undefined> = AT,
): Promise<void> => {
  // What a flood does to the repertoire and the day is nobody else's.
  const own = mkdtempSync(join(scratch, 'own-'))
  cpSync(home, own, { recursive: true })
  pty = startInPty(process.execPath, [MAIN, '--home', own, ...args], { env })
  await pty.waitFor(ready)
  for (const [keys, seen] of way) {
    await pty.send(keys)
    await pty.waitFor(seen)
  }
}
/** Ctrl+C, and the program is gone: of its own will, the terminal as it was, and nothing that it started goes on. */
const leaves = async (within = 5000): Promise<void> => {
  const own = processes().filter(p => p.parent === pty.pid)
  await pty.send('\x03')
  const late = new Promise<never>((_, no) => {
    setTimeout(() => no(new Error(`still there after ${within} ms:\n${pty.rows().join('\n')}`)), within)
  })
  const { code, signal } = await Promise.race([pty.exit, late])
  expect({ code, signal }).toEqual({ code: 0, signal: 0 })
  expect(pty.state()).toEqual(UNTOUCHED)
  await vi.waitFor(() => expect(own.filter(p => alive(p.pid))).toEqual([]), { timeout: 2000, interval: 50 })
}

describe.skipIf(process.platform === 'win32')('Ctrl+C leaves at once', () => {
  test.each(SCREENS)(
    '%s, after windows down to one cell, half a key and a paste that never ended',
    async (_, args, ready, way) => {
      await open(args, ready, way)
      for (const [rows, cols] of [
        [1, 1],
        [3, 200],
        [60, 2],
        [2, 60],
        [1, 1],
        [100, 300],
        [24, 1],
        [1, 80],
        [24, 80],
      ] as const) {
        pty.resize(rows, cols)
        await new Promise(done => setTimeout(done, 5))
      }
      await pty.waitFor(way.at(-1)?.[1] ?? ready)
      await pty.send('\x1b[6')
      await pty.send('\x1b[200~an unclosed page')
      await leaves()
    },
  )

  test.each(SCREENS)('%s, after a flood of random bytes', async (_, args, ready, way) => {
    await open(args, ready, way)
    await pty.send([args.includes('--plain') ? SAID : FLOOD])
    await leaves()
  })

  test.each(['\r', '4\r'].flatMap(keys => [0, 60].map(gap => [JSON.stringify(keys), gap, keys] as const)))(
    '%s and Ctrl+C %i ms behind it: between two screens too',
    async (_, gap, keys) => {
      for (const lines of [[], ['--plain']]) {
        await open(lines, /Rest/)
        await pty.send(keys)
        await new Promise(done => setTimeout(done, gap))
        await leaves()
      }
    },
  )

  describe.skipIf(missing() !== null)('while presses with the click are counted', () => {
    test.each([
      ['drawn', []],
      ['by lines', ['--plain']],
    ])('%s, also after a flood', async (_, lines) => {
      const server = await startPulse()
      try {
        const env = { ...server.env, CI: 'true' }
        for (const sent of ['', lines.length > 0 ? SAID : FLOOD]) {
          await open(['sound', '--offset', '--output', 'pacat', ...lines], /Listen to four clicks/, [], env)
          await pty.send([sent])
          await leaves()
        }
      } finally {
        server.close()
      }
    })
  })

  test('by lines the keyboard is given back too', async () => {
    const node = `"${process.execPath}" "${MAIN}" --home "${home}" --plain`
    pty = startInPty('sh', ['-c', `${node}; status=$?; stty -a; exit $status`], { env: AT })
    await pty.waitFor(/4: Rest/)
    await leaves()
    expect(pty.output()).toMatch(/ icanon/)
    expect(pty.output()).toMatch(/ echo /)
  })

  test('practice, while only the pedals count', async () => {
    await open(['practice', RUN, '--keys', 'pedals'], /pedal/)
    await pty.send('fffqqq')
    await leaves()
  })

  test('practice, on a computer that has more to do than it can', async () => {
    const busy = [1, 2, 3, 4].map(() => spawn(process.execPath, ['-e', 'for (;;);'], { stdio: 'ignore' }))
    try {
      await open(['practice', RUN], /pedal/)
      await pty.send('\x1b[6~')
      await leaves()
    } finally {
      for (const b of busy) b.kill('SIGKILL')
    }
  })
})
