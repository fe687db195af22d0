import { join } from 'node:path'
import { expect, test } from 'vitest'
import { homeAt } from '../../../src/store/home.ts'
import { repertoire } from '../../../src/store/repertoire.ts'
import { UNTOUCHED } from '../../terminal/headless.ts'
import { forThisTest, newHome } from '../../terminal/left-behind.ts'
import { type Pty, startInPty } from '../../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../../dist/main.js')
const RIGHT = '\x1b[6~'
const LEFT = '\x1b[5~'
const pause = (ms: number): Promise<void> => new Promise(done => setTimeout(done, ms))

/** A command in a pseudo-terminal, on the silent clock. */
const start = (home: string, speed: number, ...args: string[]): Pty => {
  const pty = startInPty(process.execPath, [MAIN, '--home', home, ...args], {
    env: { GRADINO_SPEED: String(speed), GRADINO_NOW: '2031-03-15T12:00:00Z', CI: 'true' },
  })
  forThisTest(pty)
  return pty
}
test('just the click: a press starts it, a mark waits for the bar line, a press stops it, f gives the terminal back', async () => {
  const pty = start(newHome(), 4, 'click', '--tempo', '112', '--meter', '3/4')
  await pty.waitFor(/right .*: start {3}left .*: tap a tempo/)
  await pty.send(RIGHT)
  await pty.waitFor(/┃ .*█.*┃ {2}measure 2/)
  await pty.send(']')
  await pty.waitFor('[ 112   ] 120')
  await pty.waitFor(/█.*┃ {2}measure 4/)
  expect(pty.rows().join('\n')).not.toContain('from the next bar line')
  await pty.send(LEFT)
  await pty.waitFor(rows => !rows.some(r => /┃ .*█.*┃/.test(r)) && rows.some(r => r.includes(': start')))
  await pty.send('f')
  expect(await pty.exit).toEqual({ code: 0, signal: 0 })
  expect(pty.state()).toEqual(UNTOUCHED)
  expect(pty.output()).toContain('The click: quarter = 116, 3/4.')
})

test('one slow reading: two presses become two sections on disk', async () => {
  const home = newHome()
  const add = start(home, 1, 'piece', 'add', 'Weir Street Overture', '--in', '41-46', '--goal', '200')
  expect((await add.exit).code).toBe(0)
  const pty = start(home, 5, 'read', 'Weir')
  await pty.waitFor('reading at quarter = 120')
  await pty.send(RIGHT)
  await pty.waitFor('measure 2 of 6')
  await pty.send(RIGHT)
  await pty.waitFor('Hard spot: m. 4')
  await pty.waitFor('measure 6 of 6')
  await pty.send(LEFT)
  await pty.waitFor('Store these as sections?')
  await pause(150)
  await pty.send('y')
  expect((await pty.exit).code).toBe(0)
  expect(pty.state()).toEqual(UNTOUCHED)
  const [kept] = (await repertoire(homeAt(home, {})).list()).pieces
  expect(kept?.piece.passages[0]?.sections).toHaveLength(2)
})

test('as plain lines: taps find a tempo, and nothing that only moves is said', async () => {
  const pty = start(newHome(), 1, '--plain', 'click')
  await pty.waitFor('quarter = 60, 4/4')
  for (let i = 0; i < 4; i++) {
    await pty.send('t')
    await pause(500)
  }
  await pty.waitFor(/about quarter = 1[12]\d/)
  await pty.send('\r')
  await pty.waitFor(/^quarter = 1[12]\d, 4\/4/m)
  await pty.send(RIGHT)
  await pty.waitFor('Started.')
  await pause(1200)
  await pty.send(RIGHT)
  await pty.waitFor('Stopped.')
  await pty.send('q')
  expect((await pty.exit).code).toBe(0)
  expect(pty.output()).not.toContain('measure')
})
