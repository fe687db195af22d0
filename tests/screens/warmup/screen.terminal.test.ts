import { join } from 'node:path'
import { expect, test } from 'vitest'
import { UNTOUCHED } from '../../terminal/headless.ts'
import { forThisTest, newHome } from '../../terminal/left-behind.ts'
import { type Pty, startInPty } from '../../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../../dist/main.js')
const RIGHT = '\x1b[6~'

/** `gradino warmup thirds-and-sixths`, twenty times as fast as life, on the silent clock. */
const start = (home: string, now: string, ...more: string[]): Pty => {
  const args = [MAIN, '--home', home, 'warmup', 'thirds-and-sixths', ...more]
  const pty = startInPty(process.execPath, args, { env: { GRADINO_SPEED: '20', GRADINO_NOW: now } })
  forThisTest(pty)
  return pty
}

test('today one mark faster in C, tomorrow from that tempo in G, and the terminal as it was', async () => {
  const home = newHome()
  const today = start(home, '2031-03-15T12:00:00Z')
  await today.waitFor('Thirds   C major')
  await today.waitFor('C-E D-F E-G F-A G-B A-C B-D C-E')
  await today.waitFor(/either pedal .*: start/)
  await today.send(']')
  await today.send(RIGHT)
  await today.waitFor(/turn 2 of 6/)
  await today.send('f')
  expect(await today.exit).toMatchObject({ code: 0 })
  expect(today.state()).toEqual(UNTOUCHED)
  expect(today.rows().join('\n')).toContain('Warmed up with: Thirds in C major.')

  const tomorrow = start(home, '2031-03-16T12:00:00Z', '--plain')
  await tomorrow.waitFor(/Thirds, G major: G-B A-C B-D C-E/)
  await tomorrow.waitFor(/quarter = 58, turn 1 of 6/)
  await tomorrow.send('f')
  expect(await tomorrow.exit).toMatchObject({ code: 0 })
})
