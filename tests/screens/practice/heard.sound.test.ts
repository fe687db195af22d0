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
  writeFileSync(join(home, 'config', 'settings.json'), '{"v":1,"steady":true,"cautionsShown":true}')
  return home
}

/** Climbs from 200 to 208 with a clean repetition of one measure, and returns what the loudspeaker got. */
const climb = async (): Promise<Int16Array> => {
  const home = newHome()
  const room = await roomOfItsOwn(env ?? {}, `heard-${basename(home)}`)
  const recording = room.record()
  const args = ['practice', '--start', '200', '--goal', '208', '--measures', '1', '--clean', '1-in-a-row']
  const pty = startInPty(process.execPath, [MAIN, '--home', home, ...args], {
    // Room for all that is said, also of the sound.
    rows: 36,
    cols: 120,
    env: { ...room.env, CI: 'true', GRADINO_HOME: undefined },
  })
  try {
    // Where the machine is busy the silent clock comes first.
    await pty.waitFor(/click mf through |The sound is back/)
    await pty.send(RIGHT)
    await pty.waitFor('Clean or not clean?')
    await pty.send(RIGHT)
    await pty.waitFor('A rung up: quarter = 208.')
    await pty.waitFor(rows => !rows.some(r => r.includes('Clean or not clean?')))
    await pty.waitFor('Clean or not clean?')
    await pty.send('f')
    await pty.waitFor('key closes.')
  } finally {
    pty.dispose()
    rmSync(home, { recursive: true, force: true })
  }
  return (await recording.stop()).samples
}

/** The longest run of clicks whose distances are a beat at this tempo within two samples, or longer by up to `more`. */
const longestRun = (onsets: readonly number[], bpm: number, more = 2): readonly number[] => {
  const beat = (60 * RATE) / bpm
  let best: number[] = []
  let run: number[] = []
  for (const [i, at] of onsets.entries()) {
    const gap = at - (onsets[i - 1] ?? Number.NaN)
    run = gap - beat >= -2 && gap - beat <= more ? [...run, at] : [at]
    if (run.length > best.length) best = run
  }
  return best
}

const RUNGS = [200, 208] as const
/** Two measures of count-in (one is shorter than 1.5 s) and one of music. */
const CLICKS = 12
/** Where the recording has a gap, as on a busy machine: all clicks are there, and some come late. */
const isTorn = (onsets: readonly number[]): boolean =>
  RUNGS.some(bpm => longestRun(onsets, bpm).length < CLICKS) &&
  RUNGS.every(bpm => longestRun(onsets, bpm, RATE / 10).length >= CLICKS)

test.skipIf(env === null)(
  'from the press to the loudspeaker: at each rung every interval is exact to the sample',
  async () => {
    // A recording with a gap in it says nothing about what was played: another one, twice at most.
    let onsets = onsetsIn(await climb())
    for (let again = 0; again < 2 && isTorn(onsets); again++) onsets = onsetsIn(await climb())
    for (const bpm of RUNGS) {
      const beat = (60 * RATE) / bpm
      const clicks = longestRun(onsets, bpm)
      expect(clicks, `clicks at ${bpm}`).toHaveLength(CLICKS)
      const [countIn, music] = [clicks.slice(0, 9), clicks.slice(8)]
      for (const part of [countIn, music])
        for (const [i, at] of part.entries()) expect(at - (part[0] ?? 0)).toBe(Math.round(i * beat))
    }
  },
)
