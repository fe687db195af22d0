import { describe, expect, test } from 'vitest'
import { heardOf } from '../../../src/app/demo/recording.ts'
import { DEFAULT_LEVELS } from '../../../src/click/voices.ts'
import { beginSound } from '../../../src/sound/open-sound.ts'
import type { Sound, SoundEvent } from '../../../src/sound/sound.ts'
import { CUT_GAP } from '../../../src/sound/timeline.ts'
import { PLAYER, tempo } from '../../sound/scene.ts'
import { virtualClock } from '../../sound/virtual-clock.ts'

const bar = tempo(60, 4)

describe('what a sound has played', () => {
  test('is known with its places and cuts, and nothing that never began', async () => {
    const clock = virtualClock()
    const { timeline, ...sound } = heardOf(
      beginSound({
        output: 'silent',
        now: clock.now,
        player: PLAYER,
        levels: DEFAULT_LEVELS,
        silent: clock,
      }),
      clock.now,
    )
    await sound.ready()
    const a = sound.play(bar, 'now')
    const b = sound.play(bar, a)
    sound.play(tempo(90, 4), b)
    clock.pass(5000)
    const d = sound.play(tempo(120, 4), 'now')
    clock.pass(1000)
    const [first, second, third, ...more] = timeline()
    expect(more).toEqual([])
    expect(first).toEqual({ id: a, at: first?.at, program: bar })
    const at = (first?.at ?? 0) + bar.frames
    expect(second).toMatchObject({ id: b, at })
    // Five seconds are frame 240,000; the first frame not yet handed over is the next one.
    expect(second?.cut).toBe(240_001)
    expect(third).toMatchObject({ id: d, at: 240_001 + CUT_GAP })
    // Asked while it sounds: what comes after this moment has not been heard.
    expect(third?.cut).toBe(6 * 48_000)
  })

  test('of two outputs is one timeline: the second begins where the first was lost', () => {
    const listeners: ((e: SoundEvent) => void)[] = []
    let heard = 1000
    let id = 0
    const fake: Sound = {
      ready: async () => {},
      output: () => 'pacat',
      device: () => null,
      absent: () => null,
      refused: () => [],
      play: () => ++id,
      stop: () => {},
      levels: () => {},
      heardAt: () => null,
      frameAt: () => heard,
      on: f => {
        listeners.push(f)
        return () => {}
      },
      close: async () => {},
    }
    const tell = (e: SoundEvent): void => {
      for (const f of listeners) f(e)
    }
    const { timeline, ...sound } = heardOf(fake, () => 0)
    const a = sound.play(bar, 'now')
    tell({ kind: 'started', id: a, frame: 4800 })
    heard = 20_000
    tell({ kind: 'trouble', what: 'gone', output: 'pacat' })
    tell({ kind: 'output', name: 'aplay' })
    const b = sound.play(bar, 'now')
    tell({ kind: 'started', id: b, frame: 960 })
    heard = bar.frames
    expect(timeline()).toEqual([
      { id: a, at: 4800, program: bar, cut: 24_800 },
      { id: b, at: 24_800 + 960, program: bar },
    ])
  })
})
