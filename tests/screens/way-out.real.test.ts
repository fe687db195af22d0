import { execFileSync } from 'node:child_process'
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

const BEFORE: readonly (readonly [name: string, bytes: string | Buffer])[] = [
  ['nothing', ''],
  ['a paste that never ended', '\x1b[200~an unclosed page'],
  ['half a sequence', '\x1b[6'],
  ['a million random bytes', without(noise(1_000_000), 3, 26, 28)],
]

describe.skipIf(process.platform === 'win32')('Ctrl+C leaves at once', () => {
  describe.each(SCREENS)('%s', (_, args, ready) => {
    test.each(BEFORE)('after %s', async (__, bytes) => {
      pty = startInPty(process.execPath, [MAIN, '--home', home, ...args], { env: AT })
      await pty.waitFor(ready)
      if (bytes.length > 0) await pty.send([bytes])
      const pressed = performance.now()
      await pty.send('\x03')
      const { code, signal } = await Promise.race([
        pty.exit,
        new Promise<never>((___, no) => setTimeout(() => no(new Error(pty.rows().join('\n'))), 20_000)),
      ])
      expect(code).toBe(0)
      expect(signal).toBe(0)
      expect(performance.now() - pressed).toBeLessThan(5000)
      expect(pty.state()).toEqual(UNTOUCHED)
    })
  })
})
