import { execFileSync, spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import { UNTOUCHED } from '../terminal/headless.ts'
import { type Pty, startInPty } from '../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../dist/main.js')
const AT = { GRADINO_NOW: '2031-03-15T12:00:00Z', CI: 'true' }
const RUN = 'Weir Street Overture/run at the weir'

let home = ''
beforeAll(() => {
  home = mkdtempSync(join(tmpdir(), 'gradino-way-out-'))
  const add = ['piece', 'add', 'Weir Street Overture', '--passage', 'run at the weir', '--in', '41-44']
  execFileSync(process.execPath, [MAIN, '--home', home, ...add, '--goal', '138', '--start', '96'], {
    env: { ...process.env, ...AT },
  })
})
afterAll(() => rmSync(home, { recursive: true, force: true }))

let pty: Pty
afterEach(() => pty.dispose())

/** Every screen, and what it shows when it is ready. */
const SCREENS: readonly (readonly [name: string, args: readonly string[], ready: RegExp])[] = [
  ['the day', [], /run at the weir/],
  ['practice', ['practice', RUN], /either pedal/],
  ['the click', ['click'], /quarter/],
  ['the reading', ['read', RUN], /reading|press/i],
  ['the form', ['piece', 'edit', RUN], /name +run/],
  ['a warm-up', ['warmup'], /press|pedal|clean/i],
  ['set-up', ['setup'], /pedal/],
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
/** Ctrl+C, and what a shell would take for a signal once the program has left by a key of its own. */
const without = (bytes: Buffer, ...dropped: number[]): Buffer =>
  Buffer.from(bytes.filter(b => !dropped.includes(b)))

const FLOOD = without(noise(1_000_000), 3, 26, 28)

const open = async (args: readonly string[], ready: RegExp): Promise<void> => {
  pty = startInPty(process.execPath, [MAIN, '--home', home, ...args], { env: AT })
  await pty.waitFor(ready, 30_000)
}
/** Ctrl+C, and the program is gone: of its own will, the terminal as it was. */
const leaves = async (within = 5000): Promise<void> => {
  await pty.send('\x03')
  const late = new Promise<never>((_, no) => {
    setTimeout(() => no(new Error(`still there after ${within} ms:\n${pty.rows().join('\n')}`)), within)
  })
  const { code, signal } = await Promise.race([pty.exit, late])
  expect({ code, signal }).toEqual({ code: 0, signal: 0 })
  expect(pty.state()).toEqual(UNTOUCHED)
}

describe.skipIf(process.platform === 'win32')('Ctrl+C leaves at once', () => {
  test.each(SCREENS)(
    '%s, after windows down to one cell, half a key and a paste that never ended',
    async (_, args, ready) => {
      await open(args, ready)
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
      await pty.waitFor(ready)
      await pty.send('\x1b[6')
      await pty.send('\x1b[200~an unclosed page')
      await leaves()
    },
  )

  test.each(SCREENS)('%s, after a million random bytes', async (_, args, ready) => {
    await open(args, ready)
    await pty.send([FLOOD])
    await leaves()
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
