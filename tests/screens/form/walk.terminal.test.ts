import { join } from 'node:path'
import { expect, test } from 'vitest'
import { gradino } from '../../cli/bundle.ts'
import { climb } from '../../cli/weir.ts'
import { UNTOUCHED } from '../../terminal/headless.ts'
import { forThisTest, newHome } from '../../terminal/left-behind.ts'
import { startInPty } from '../../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../../dist/main.js')
const [ENTER, UP, DOWN, ESCAPE, STORE, BACK] = ['\r', '\x1b[A', '\x1b[B', '\x1b', '\x13', '\x7f']
const NOW = { GRADINO_NOW: '2031-03-15T12:00:00Z' }
const RUN = 'Weir Street Overture/run at the weir'

/** A passage with a ceiling, and its form. */
const atTheForm = async () => {
  const home = newHome()
  const type = (...args: string[]) => gradino(home, ['--home', home, ...args], NOW)
  type(
    'piece',
    'add',
    'Weir Street Overture',
    '--passage',
    'run at the weir',
    '--in',
    '41-44',
    '--goal',
    '138',
  )
  const passage = () => JSON.parse(type('--json', 'piece', 'show', RUN).out).passages[0]
  const { id } = passage()
  await climb(home, `section ${id} even`)
  const pty = startInPty(process.execPath, [MAIN, '--home', home, 'piece', 'edit', RUN], {
    env: { ...NOW, CI: 'true' },
  })
  forThisTest(pty)
  await pty.waitFor(has(/║: name +run at the weir_/))
  return { pty, passage, id }
}
const has = (pattern: RegExp) => (rows: readonly string[]) => rows.some(r => pattern.test(r))

test('a meter put right, a breath put in, the question answered: stored, and the history stays', async () => {
  const { pty, passage, id } = await atTheForm()
  await pty.send([DOWN, DOWN, DOWN, DOWN])
  await pty.waitFor(has(/║: meter +4\/4_/))
  await pty.send([BACK, BACK, BACK, ...'5/9', ENTER])
  await pty.waitFor('"5/9" doesn\'t work for the meter')
  await pty.waitFor(has(/meter +5\/9 +look again/))
  await pty.send([UP, BACK, BACK, BACK, ...'2/2', ENTER, ENTER, ENTER, ENTER])
  await pty.waitFor(has(/║: breath +_/))
  await pty.send([...'42.2', ENTER])
  await pty.waitFor(has(/breath 1 +42\.2 +breathe before m\. 42, beat 2/))
  await pty.waitFor(has(/║: breath +_/))

  // Leaving asks, and going back finds everything as it was.
  await pty.send(ESCAPE)
  await pty.waitFor('What you typed is not stored yet.')
  await pty.send(ESCAPE)
  await pty.waitFor(has(/breath 1 +42\.2 +breathe before m\. 42, beat 2/))
  await pty.send(STORE)
  await pty.waitFor('run at the weir (meter) is no longer the music you practiced.')
  await pty.waitFor(has(/║: Keep the history/))
  await pty.send(ENTER)
  expect(await pty.exit).toMatchObject({ code: 0 })
  expect(pty.state()).toEqual(UNTOUCHED)
  const said = pty.rows().join('\n')
  expect(said).toContain('meter: 2/2 (was 4/4)')
  expect(said).toContain('The history stays: run at the weir, ceiling quarter = 116.')
  expect(passage()).toMatchObject({
    id,
    meter: '2/2',
    ceiling: '116',
    breaths: [{ at: '42.2', kind: 'breath' }],
  })
})

test('left without storing, what was typed is said; the piece is as it was', async () => {
  const { pty, passage } = await atTheForm()
  await pty.send([...', slowly', ESCAPE])
  await pty.waitFor('What you typed is not stored yet.')
  await pty.send([DOWN, ENTER])
  expect(await pty.exit).toMatchObject({ code: 0 })
  expect(pty.state()).toEqual(UNTOUCHED)
  expect(pty.rows().join('\n')).toContain('name run at the weir, slowly')
  expect(passage().name).toBe('run at the weir')
})
