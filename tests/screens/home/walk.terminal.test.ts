import { join } from 'node:path'
import { expect, test } from 'vitest'
import { UNTOUCHED } from '../../terminal/headless.ts'
import { forThisTest, newHome } from '../../terminal/left-behind.ts'
import { type Pty, startInPty } from '../../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../../dist/main.js')
const ENTER = '\r'
const RIGHT = '\x1b[6~'
const LEFT = '\x1b[5~'
const DOWN = '\x1b[B'
const ESCAPE = '\x1b'

/** `gradino` at noon, five times as fast as life, on the silent clock. */
const start = (home: string, args: readonly string[] = []): Pty => {
  const pty = startInPty(process.execPath, [MAIN, '--home', home, ...args], {
    env: { GRADINO_SPEED: '5', GRADINO_NOW: '2031-03-15T12:00:00Z', CI: 'true' },
  })
  forThisTest(pty)
  return pty
}
const has = (pattern: RegExp) => (rows: readonly string[]) => rows.some(r => pattern.test(r))
const pause = (ms: number): Promise<void> => new Promise(done => setTimeout(done, ms))

test('first start, a first piece by keyboard, one rung climbed, and back to a list that knows it', async () => {
  const home = newHome()
  const pty = start(home)
  await pty.waitFor('What is on the stand?')
  await pty.waitFor('Rest five minutes in each half hour.')
  await pty.send(LEFT)
  await pty.waitFor(has(/║: A first piece/))
  // Two pedals within 120 ms are one clumsy foot.
  await pause(100)
  await pty.send(RIGHT)
  await pty.waitFor('As printed on your part.')

  for (const text of ['Weir Street Overture', '41', 'run at the weir', '4/4'])
    await pty.send([...text, ENTER])
  await pty.waitFor('41 measures')
  await pty.send([DOWN, DOWN, DOWN, DOWN, DOWN, '\x1b[A', '\x1b[A', '\x1b[A'])
  // Up to the measures: not 41 of them, but measure 41.
  await pty.send(['\x1b[A', '\x1b[A', '\x1b[A', '\x7f', '\x7f', ...'41-41'])
  await pty.waitFor(has(/║: place .*1 measure$/))
  await pty.send(ESCAPE)
  await pty.waitFor('What is on the stand?')
  await pty.send(ENTER)
  await pty.waitFor(has(/title +Weir Street Overture/))
  await pty.send([DOWN, DOWN, DOWN, DOWN, ...'200', ENTER])
  await pty.waitFor(has(/goal tempo +200 +quarter = 200/))
  await pty.send([...'192', ENTER, ...'2031-03-14', ENTER])
  await pty.waitFor('"2031-03-14" is past.')
  await pty.send(['\x7f', '9', ENTER])
  await pty.waitFor('Saturday, one passage, to be ready in 4 days')
  await pty.waitFor('Stored.')
  expect(pty.rows().join('\n')).not.toContain('Rest five minutes')
  await pty.waitFor(has(/║: run at the weir, m\. 41[ .]+192 +none +200 /))

  await pause(200)
  await pty.send(RIGHT)
  await pty.waitFor(/either pedal .*: start/)
  // The press that opened the screen is no second one, however long the foot stays down.
  await pause(200)
  for (let rep = 1; rep <= 3; rep++) {
    if (rep === 1) await pty.send(RIGHT)
    await pty.waitFor('Clean or not clean?')
    await pty.send(RIGHT)
    await pty.waitFor(rep < 3 ? `of three in a row` : 'A rung up')
    await pty.waitFor(rows => !rows.some(r => r.includes('Clean or not clean?')))
  }
  await pty.send('f')
  await pty.waitFor('Reached today: quarter = 192')
  await pause(200)
  await pty.send(RIGHT)
  await pty.waitFor(has(/║: run at the weir, m\. 41[ .]+200 +192 +200 /))
  // The press that closed the last view opened nothing.
  await pause(100)
  expect(pty.rows().join('\n')).toContain('Saturday, one passage')

  await pty.send('q')
  expect(await pty.exit).toMatchObject({ code: 0 })
  expect(pty.state()).toEqual(UNTOUCHED)

  const again = start(home)
  await again.waitFor('Saturday, 40 minutes, rehearsal in 4 days')
  await again.send('p')
  await again.waitFor('Saturday, one passage')
  expect(again.rows().join('\n')).not.toContain('Rest five minutes')
  await again.send('\x03')
  expect(await again.exit).toMatchObject({ code: 0 })
  expect(again.state()).toEqual(UNTOUCHED)
})

test('a quick ladder from the question, and back to it', async () => {
  const pty = start(newHome())
  await pty.waitFor('What is on the stand?')
  await pty.send([ENTER, ...'120', ENTER])
  await pty.waitFor('Quick ladder   2 measures of 4/4, to quarter = 120')
  await pty.send('f')
  await pty.waitFor('No rung was completed today.')
  await pause(200)
  await pty.send('x')
  await pty.waitFor('What is on the stand?')
})

test('Ctrl+C at the practice screen leaves the program, and its closing lines stay behind', async () => {
  const pty = start(newHome())
  await pty.waitFor('What is on the stand?')
  await pty.send([ENTER, ...'120', ENTER])
  await pty.waitFor('Quick ladder   2 measures')
  await pty.send('\x03')
  expect(await pty.exit).toMatchObject({ code: 0 })
  expect(pty.state()).toEqual(UNTOUCHED)
  expect(pty.rows().join('\n')).toContain('Tomorrow starts at quarter = 72.')
})

test('a second practice screen on the same home is refused in one sentence, and the list stays', async () => {
  const home = newHome()
  const first = start(home, ['practice', '--goal', '120'])
  await first.waitFor(/either pedal .*: start/)
  const second = start(home)
  await second.waitFor('What is on the stand?')
  await second.send([ENTER, ...'120', ENTER])
  await second.waitFor(/another gradino|already/i)
  await second.waitFor('What is on the stand?')
  await second.send('f')
  expect(await second.exit).toMatchObject({ code: 0 })
})

test('--plain asks the same by lines, without an escape, and Ctrl+C leaves', async () => {
  const pty = start(newHome(), ['--plain'])
  await pty.waitFor('What is on the stand?')
  await pause(300)
  await pty.send('\x03')
  expect(await pty.exit).toMatchObject({ code: 0 })
  expect(pty.output()).not.toContain('\x1b')
})
