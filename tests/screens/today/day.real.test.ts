import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { UNTOUCHED } from '../../terminal/headless.ts'
import { type Pty, startInPty } from '../../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../../dist/main.js')
const RIGHT = '\x1b[6~'

const open: Pty[] = []
const homes: string[] = []
afterEach(() => {
  for (const pty of open.splice(0)) pty.dispose()
  for (const home of homes.splice(0)) rmSync(home, { recursive: true, force: true })
})

/** Six in the evening, twelve times as fast as life, on the silent clock. */
const start = (home: string, ...args: string[]): Pty => {
  const pty = startInPty(process.execPath, [MAIN, '--home', home, ...args], {
    env: { GRADINO_SPEED: '12', GRADINO_NOW: '2031-03-14T18:00:00Z', CI: 'false' },
  })
  open.push(pty)
  return pty
}
const pause = (ms: number): Promise<void> => new Promise(done => setTimeout(done, ms))

/** Where the right pedal is asked for, and what is then on the screen. */
const ASKS = [
  /or Enter: begin/,
  /either pedal .*: start/,
  /Clean or not clean\?/,
  /what comes next/,
  /: go on/,
  /Any pedal goes on/,
]

test('a short day is played from the plan with the right pedal alone, and is still done after a restart', async () => {
  const home = mkdtempSync(join(tmpdir(), 'gradino-day-'))
  homes.push(home)
  const added = start(
    home,
    'piece',
    'add',
    'Weir Street Overture',
    '--in',
    '41-42',
    '--goal',
    '138',
    '--start',
    '92',
  )
  expect(await added.exit).toMatchObject({ code: 0 })

  const pty = start(home)
  await pty.waitFor('Friday, 40 minutes')
  await pty.send('------'.split(''))
  await pty.waitFor('Friday, 10 minutes')
  const seen = new Set<string>()
  const told = (): string => pty.rows().join('\n')
  for (let i = 0; i < 600 && !told().includes('stop here'); i++) {
    const screen = told()
    const asks = ASKS.find(a => a.test(screen))
    if (asks) {
      seen.add(String(asks))
      await pty.send(RIGHT)
    }
    if (/\d min left/.test(screen)) seen.add('minutes left')
    await pause(130)
  }
  expect(told()).toContain('That was the day. Anything to keep?')
  expect([...seen]).toEqual(
    expect.arrayContaining([
      String(ASKS[0]),
      String(ASKS[1]),
      String(ASKS[2]),
      String(ASKS[3]),
      'minutes left',
    ]),
  )
  await pty.send('\x1b')
  await pty.waitFor(/done +Fundamentals/)
  const done = (rows: readonly string[]): number =>
    rows.filter(r => /^ .{3}18:\d\d +done /.test(` ${r}`)).length
  expect(done(pty.rows())).toBeGreaterThanOrEqual(2)
  await pty.send('f')
  expect(await pty.exit).toMatchObject({ code: 0 })
  expect(pty.state()).toEqual(UNTOUCHED)

  expect(JSON.parse(readFileSync(join(home, 'data', 'day.json'), 'utf8'))).toMatchObject({ minutes: 10 })
  // Without the file the journal still knows what was played.
  rmSync(join(home, 'data', 'day.json'))
  const again = start(home)
  await again.waitFor(/done +Fundamentals/)
  await again.send('p')
  await again.waitFor('Friday, one passage')
  await again.send('d')
  await again.waitFor(/done +Fundamentals/)
  await again.send('\x03')
  expect(await again.exit).toMatchObject({ code: 0 })
}, 150_000)
