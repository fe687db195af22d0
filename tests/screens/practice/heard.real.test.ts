import { execFileSync } from 'node:child_process'
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
if (lacks) process.stderr.write(`The recorded ladder is left out: ${lacks} is not installed.\n`)

let pulse: Pulse
beforeAll(async () => {
  if (!lacks) pulse = await startPulse()
})
afterAll(() => pulse?.close())

/** A home as on a busy computer, since this one may be: a queue of 200 ms. */
const newHome = (): string => {
  const home = mkdtempSync(join(tmpdir(), 'gradino-heard-'))
  mkdirSync(join(home, 'config'))
  writeFileSync(join(home, 'config', 'settings.json'), '{"v":1,"steady":true}')
  return home
}

/** Climbs from 192 to 200 with three clean repetitions of one measure, and returns what the loudspeaker got. */
const climb = async (): Promise<Int16Array> => {
  const home = newHome()
  const recording = pulse.record()
  const args = ['practice', '--start', '192', '--goal', '208', '--measures', '1', '--clean', '1-in-a-row']
  const pty = startInPty(process.execPath, [MAIN, '--home', home, ...args], {
    env: { ...pulse.env, CI: 'true', GRADINO_HOME: undefined },
  })
  try {
    await pty.waitFor(/click mf through /)
    await pty.send(RIGHT)
    for (const rung of ['200', '208']) {
      await pty.waitFor('Clean or not clean?')
      await pty.send(RIGHT)
      await pty.waitFor(`A rung up: quarter = ${rung}.`)
      await pty.waitFor(rows => !rows.some(r => r.includes('Clean or not clean?')))
    }
    await pty.waitFor('Clean or not clean?')
    await pty.send('f')
    await pty.waitFor('Any key closes.')
  } finally {
    pty.dispose()
    rmSync(home, { recursive: true, force: true })
  }
  return (await recording.stop()).samples
}

/** Runs of clicks whose distances stay within two samples of a beat at this tempo. */
const longestRun = (onsets: readonly number[], bpm: number): readonly number[] => {
  const beat = (60 * RATE) / bpm
  let best: number[] = []
  let run: number[] = []
  for (const [i, at] of onsets.entries()) {
    const gap = at - (onsets[i - 1] ?? Number.NaN)
    run = Math.abs(gap - beat) <= 2 ? [...run, at] : [at]
    if (run.length > best.length) best = run
  }
  return best
}

test.skipIf(lacks !== null)(
  'from the press to the loudspeaker: at each rung every interval is exact to the sample',
  { retry: 2 },
  async () => {
    const onsets = onsetsIn(await climb())
    for (const bpm of [192, 200, 208]) {
      const beat = (60 * RATE) / bpm
      const clicks = longestRun(onsets, bpm)
      // Two measures of count-in (one is shorter than 1.5 s) and one of music.
      expect(clicks, `clicks at ${bpm}`).toHaveLength(12)
      const [countIn, music] = [clicks.slice(0, 9), clicks.slice(8)]
      for (const part of [countIn, music])
        for (const [i, at] of part.entries()) expect(at - (part[0] ?? 0)).toBe(Math.round(i * beat))
    }
  },
)

/** Plays two measures at 112 that wait at the third beat, holds them for a while, goes on, and returns what was heard. */
const hold = async (): Promise<Int16Array> => {
  const home = newHome()
  const run = (...args: string[]) => execFileSync(process.execPath, [MAIN, '--home', home, ...args])
  run('piece', 'add', 'Weir Street Overture', '--passage', 'weir', '--in', '41-42', '--goal', '120')
  run('piece', 'edit', 'Weir Street Overture/weir', '--start', '112', '--breath', '41.3 fermata waits')
  const recording = pulse.record()
  const pty = startInPty(process.execPath, [MAIN, '--home', home, 'practice', 'Weir Street Overture/weir'], {
    env: { ...pulse.env, CI: 'true', GRADINO_HOME: undefined },
  })
  try {
    await pty.waitFor(/click mf through /)
    await pty.send(RIGHT)
    await pty.waitFor('Held: the right pedal goes on, the left one stops.')
    await pty.send(RIGHT)
    await pty.waitFor('Clean or not clean?')
    await pty.send('f')
    await pty.waitFor('Any key closes.')
  } finally {
    pty.dispose()
    rmSync(home, { recursive: true, force: true })
  }
  return (await recording.stop()).samples
}

test.skipIf(lacks !== null)(
  'at a mark that waits the loudspeaker is silent; what follows is as exact as what came before',
  { retry: 2 },
  async () => {
    const onsets = onsetsIn(await hold())
    const beat = (60 * RATE) / 112
    // A measure of count-in and two beats; then one beat that prepares, and six of music.
    expect(onsets).toHaveLength(13)
    for (const leg of [onsets.slice(0, 6), onsets.slice(6)])
      for (const [i, at] of leg.entries()) expect(Math.abs(at - (leg[0] ?? 0) - i * beat)).toBeLessThan(1.5)
    // The held note lasts at least as written.
    expect((onsets[6] ?? 0) - (onsets[5] ?? 0)).toBeGreaterThanOrEqual(Math.floor(beat))
  },
)
