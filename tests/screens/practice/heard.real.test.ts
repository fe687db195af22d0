import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { expect, inject, test } from 'vitest'
import { onsetsIn, roomOfItsOwn } from '../../sound/pulse.ts'
import { startInPty } from '../../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../../dist/main.js')
const RIGHT = '\x1b[6~'
const RATE = 48_000

const env = inject('soundServer')

/** A home as on a busy computer, since this one may be: a queue of 200 ms. */
const newHome = (): string => {
  const home = mkdtempSync(join(tmpdir(), 'gradino-heard-'))
  mkdirSync(join(home, 'config'))
  writeFileSync(join(home, 'config', 'settings.json'), '{"v":1,"steady":true}')
  return home
}

/** Climbs from 200 to 208 with a clean repetition of one measure, and returns what the loudspeaker got. */
const climb = async (): Promise<Int16Array> => {
  const home = newHome()
  const room = await roomOfItsOwn(env ?? {}, `heard-${basename(home)}`)
  const recording = room.record()
  const args = ['practice', '--start', '200', '--goal', '208', '--measures', '1', '--clean', '1-in-a-row']
  const pty = startInPty(process.execPath, [MAIN, '--home', home, ...args], {
    env: { ...room.env, CI: 'true', GRADINO_HOME: undefined },
  })
  try {
    await pty.waitFor(/click mf through /)
    await pty.send(RIGHT)
    await pty.waitFor('Clean or not clean?')
    await pty.send(RIGHT)
    await pty.waitFor('A rung up: quarter = 208.')
    await pty.waitFor(rows => !rows.some(r => r.includes('Clean or not clean?')))
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

test.skipIf(env === null)(
  'from the press to the loudspeaker: at each rung every interval is exact to the sample',
  { retry: 2 },
  async () => {
    const onsets = onsetsIn(await climb())
    for (const bpm of [200, 208]) {
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
