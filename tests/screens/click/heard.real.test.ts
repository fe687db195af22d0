import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { missing, onsetsIn, type Pulse, startPulse } from '../../sound/pulse.ts'
import { startInPty } from '../../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../../dist/main.js')
const RIGHT = '\x1b[6~'
const RATE = 48_000

const lacks = missing()
if (lacks) process.stderr.write(`The recorded click is left out: ${lacks} is not installed.\n`)

let pulse: Pulse
beforeAll(async () => {
  if (!lacks) pulse = await startPulse()
})
afterAll(() => pulse?.close())

/** At 184 until two marks up are asked for in the fourth measure, then on at 200: what the loudspeaker got. */
const listen = async (): Promise<Int16Array> => {
  const home = mkdtempSync(join(tmpdir(), 'gradino-heard-'))
  // As on a busy computer, since this one may be: a queue of 200 ms.
  mkdirSync(join(home, 'config'))
  writeFileSync(join(home, 'config', 'settings.json'), '{"v":1,"steady":true}')
  const recording = pulse.record()
  const pty = startInPty(process.execPath, [MAIN, '--home', home, 'click', '--tempo', '184'], {
    env: { ...pulse.env, CI: 'true', GRADINO_HOME: undefined },
  })
  try {
    await pty.waitFor(/click mf through /)
    await pty.send(RIGHT)
    await pty.waitFor('measure 4')
    await pty.send([']', ']'])
    await pty.waitFor('measure 8')
    await pty.send(RIGHT)
    await pty.send('f')
    await pty.exit
  } finally {
    pty.dispose()
    rmSync(home, { recursive: true, force: true })
  }
  return (await recording.stop()).samples
}

test.skipIf(lacks !== null)(
  'from program to program and into a new tempo every click is exact to the sample',
  { retry: 2 },
  async () => {
    const onsets = onsetsIn(await listen())
    const [slow, fast] = [(60 * RATE) / 184, (60 * RATE) / 200]
    const turn = onsets.findIndex((at, i) => i > 0 && at - (onsets[i - 1] ?? 0) < (slow + fast) / 2) - 1
    // A new tempo begins at a bar line: four or five measures of the old one.
    expect([16, 20]).toContain(turn)
    const first = onsets[0] ?? 0
    for (let i = 0; i <= turn; i++) expect((onsets[i] ?? 0) - first, `click ${i}`).toBe(Math.round(i * slow))
    const begin = onsets[turn] ?? 0
    const after = onsets.slice(turn)
    expect(after.length).toBeGreaterThanOrEqual(12)
    for (const [i, at] of after.entries()) expect(at - begin, `click ${turn + i}`).toBe(Math.round(i * fast))
  },
)
