import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, onTestFinished, test, vi } from 'vitest'
import { renderer } from '../../src/click/render.ts'
import { DEFAULT_LEVELS } from '../../src/click/voices.ts'
import { openSound } from '../../src/sound/open-sound.ts'
import { RATE } from '../../src/sound/stream.ts'
import { lasting } from '../../src/sound/why.ts'
import { nothingHere, onsetsIn } from './pulse.ts'
import { clock, PLAYER, tempo } from './scene.ts'

const lacks = spawnSync('aplay', ['--version']).error !== undefined
if (lacks) process.stderr.write('What is captured in a file is left out: aplay is not installed.\n')

/**
 * ALSA's file plug-in as the only device: what an output hands over stands in a file, sample by sample. It takes all at
 * once, so only outputs that go by the clock can play into it; the others are recorded from a sound server
 * (outputs.sound.test.ts).
 */
test.skipIf(lacks).for(['aplay', 'speaker'] as const)(
  '%s hands over every sample as it was rendered, and no other',
  async (output, { annotate }) => {
    const quiet = nothingHere()
    const folder = mkdtempSync(join(tmpdir(), 'gradino-file-'))
    const file = join(folder, 'captured.raw')
    const config = join(folder, 'alsa.conf')
    writeFileSync(
      config,
      `pcm.!default { type file slave.pcm null file "${file}" format "raw" }
       pcm.null { type null }
       ctl.!default { type hw card 0 }`,
    )
    for (const [k, v] of Object.entries({ ...quiet.env, ALSA_CONFIG_PATH: config })) vi.stubEnv(k, v)
    try {
      const sound = await openSound({ output, now: clock, player: PLAYER, levels: DEFAULT_LEVELS })
      onTestFinished(sound.close)
      // On a busy machine the silent clock comes first.
      const missing = () => sound.refused().find(r => lasting(r.why))
      await vi.waitUntil(() => sound.output() === output || missing(), { timeout: 30_000 })
      const absent = missing()
      if (absent) {
        await sound.close()
        return void (await annotate(`${output} is left out: ${absent.why}`))
      }
      const bars = tempo(287, 6, 'downbeat')
      const id = sound.play(bars, 'now')
      await new Promise<void>(resolve => sound.on(e => e.kind === 'started' && resolve()))
      while ((sound.frameAt(id, clock()) ?? 0) < bars.frames + RATE / 4)
        await new Promise(r => setTimeout(r, 20))
      await sound.close()
      const raw = readFileSync(file)
      const left = Int16Array.from({ length: raw.length >> 2 }, (_, i) => raw.readInt16LE(4 * i))
      const stereo = new Int16Array(2 * bars.frames)
      renderer(RATE, DEFAULT_LEVELS)([{ id: 1, at: 0, program: bars }], 0, stereo)
      const rendered = Int16Array.from({ length: bars.frames }, (_, i) => stereo[2 * i] as number)
      const begin = (onsetsIn(left)[0] ?? 0) - (onsetsIn(rendered)[0] ?? 0)
      expect(left.subarray(0, begin).every(s => s === 0)).toBe(true)
      // The first click is whole: so much silence lies before it.
      expect(begin).toBeGreaterThanOrEqual(0.2 * RATE)
      expect(left.subarray(begin, begin + rendered.length)).toEqual(rendered)
    } finally {
      vi.unstubAllEnvs()
      quiet.close()
      rmSync(folder, { recursive: true, force: true })
    }
  },
)
