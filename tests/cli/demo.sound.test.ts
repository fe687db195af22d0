import { join } from 'node:path'
import { expect, inject, test } from 'vitest'
import { newFolder } from '../folders.ts'
import { onsetsIn, roomOfItsOwn } from '../sound/pulse.ts'
import { startInPty } from '../terminal/pty.ts'
import { MAIN, soundsIn } from './bundle.ts'

const env = inject('soundServer')

/** The demonstration up to the first clicks behind a repetition: onsets that the loudspeaker got, and those that are kept. */
const shown = async (): Promise<{ heard: readonly number[]; kept: readonly number[] }> => {
  const room = await roomOfItsOwn(env ?? {}, `demo-${process.hrtime.bigint()}`)
  const recording = room.record()
  const folder = newFolder()
  const pty = startInPty(process.execPath, [MAIN, 'demo', '--output', 'pacat', '--out', 'kept'], {
    cwd: folder,
    env: { GRADINO_HOME: join(folder, 'home'), ...room.env },
  })
  try {
    await pty.waitFor(/\bone of three in a row/)
    // The signal and the first clicks of the next count-in.
    await new Promise(r => setTimeout(r, 3500))
    await pty.send('x')
    expect((await pty.exit).code).toBe(0)
  } finally {
    pty.dispose()
  }
  const from = (all: readonly number[]): number[] => all.map(f => f - (all[0] ?? 0))
  return {
    heard: from(onsetsIn((await recording.stop()).samples)),
    kept: from(soundsIn(join(folder, 'kept', 'demo.wav')).starts),
  }
}

/** Where the recording has a gap, as on a busy machine: from there on everything is later, and nothing earlier. */
const isTorn = ({ heard, kept }: Awaited<ReturnType<typeof shown>>): boolean => {
  const late = kept.map((at, i) => (heard[i] ?? Number.NaN) - at)
  return late.some(by => by > 0) && late.every((by, i) => by >= (late[i - 1] ?? 0))
}

test.skipIf(env === null)('what is kept is what the loudspeaker got, to the sample', async () => {
  // A recording with a gap in it says nothing about what was played: another one, twice at most.
  let r = await shown()
  for (let again = 0; again < 2 && isTorn(r); again++) r = await shown()
  const { heard, kept } = r
  expect(kept.length).toBeGreaterThan(12)
  // A click that was handed to the device before the key was pressed still sounds after it.
  expect(heard.length - kept.length).toBeLessThanOrEqual(1)
  expect(heard.slice(0, kept.length)).toEqual(kept)
})
