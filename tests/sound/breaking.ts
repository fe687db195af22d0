import { expect, vi } from 'vitest'
import { DEFAULT_LEVELS } from '../../src/click/voices.ts'
import { openSound, type SoundOptions } from '../../src/sound/open-sound.ts'
import type { OutputName } from '../../src/sound/outputs/output.ts'
import type { Sound, SoundEvent } from '../../src/sound/sound.ts'
import { processes } from './processes.ts'
import { clock, PLAYER } from './scene.ts'

export const wait = (ms: number) => new Promise(r => setTimeout(r, ms))

/** Process ids of the sound processes that belong to `parent`. */
export const players = (parent: number): number[] =>
  processes()
    .filter(p => p.parent === parent && p.args.includes('player.js'))
    .map(p => p.pid)

/** No sound process is left, nor will be in a moment. */
export const gone = async (): Promise<void> => {
  for (let i = 0; i < 40 && players(process.pid).length > 0; i++) await wait(25)
  expect(players(process.pid)).toEqual([])
}

/** A process that has ended but was not yet collected counts as gone. */
export const alive = (pid: number): boolean =>
  processes().some(p => p.pid === pid && !p.state.startsWith('Z'))

export const open = async (output: 'auto' | OutputName, more: Partial<SoundOptions> = {}): Promise<Sound> => {
  const sound = await openSound({ output, now: clock, player: PLAYER, levels: DEFAULT_LEVELS, ...more })
  toClose.push(sound.close)
  return sound
}

/** Waits for an event and tells how long it took, ms. */
export const until = async (sound: Sound, test: (e: SoundEvent) => boolean): Promise<number> => {
  const began = clock()
  await new Promise<void>(resolve => {
    const off = sound.on(e => {
      if (!test(e)) return
      off()
      resolve()
    })
  })
  return clock() - began
}

export const use = (env: Readonly<Record<string, string>>): void => {
  for (const [k, v] of Object.entries(env)) vi.stubEnv(k, v)
}

/** What is closed when a test is over, the last first. */
export const toClose: (() => unknown)[] = []
export const closeAll = async (): Promise<void> => {
  for (const c of toClose.splice(0).reverse()) await c()
}

/**
 * Says whether the beat is where it would be if nothing had happened since now. A gap that was told, on a busy computer,
 * makes it later and never earlier.
 */
export const beat = (sound: Sound, id: number) => {
  const at = clock()
  const frame = sound.frameAt(id, at) ?? Number.NaN
  let gaps = 0
  sound.on(e => {
    if (e.kind === 'trouble' && e.what === 'underrun') gaps++
  })
  return {
    at,
    frame,
    /** A frame of the stream of programs that is heard at this time. */
    kept: (now = sound.frameAt(id, clock()), t = clock()): void => {
      const early = ((now ?? Number.NaN) - frame) / 48 - (t - at)
      expect(early).toBeLessThan(25)
      expect(early).toBeGreaterThan(gaps > 0 ? -1000 : -25)
    },
  }
}
