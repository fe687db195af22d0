import { describe, expect, test } from 'vitest'
import { DEFAULT_LEVELS } from '../../src/click/voices.ts'
import { openSound } from '../../src/sound/open-sound.ts'
import type { SoundEvent } from '../../src/sound/sound.ts'
import { clicks, PLAYER, tempo } from './scene.ts'
import { virtualClock } from './virtual-clock.ts'

const setUp = async (offsetMs = 0) => {
  const clock = virtualClock(5000)
  const sound = await openSound({
    output: 'silent',
    now: clock.now,
    player: PLAYER,
    levels: DEFAULT_LEVELS,
    silent: clock,
    offsetMs: () => offsetMs,
  })
  const events: (SoundEvent & { at: number })[] = []
  sound.on(e => events.push({ ...e, at: clock.now() }))
  return { clock, sound, events }
}

describe('the silent clock', () => {
  test('a beat is heard when the clock says so, exactly', async () => {
    const { clock, sound } = await setUp()
    clock.pass(40)
    const id = sound.play(tempo(120, 4), 'now')
    clock.pass(1)
    const begin = sound.heardAt(id, 0) ?? Number.NaN
    // The program begins at the next whole frame.
    expect(begin - 5040).toBeGreaterThanOrEqual(0)
    expect(begin - 5040).toBeLessThan(1 / 48 + 1e-9)
    expect((sound.heardAt(id, 24000) ?? 0) - begin).toBeCloseTo(500, 9)
    expect(sound.frameAt(id, begin + 500)).toBe(24000)
  })

  test('says started when the program begins, not when it is asked for', async () => {
    const { clock, sound, events } = await setUp()
    const a = sound.play(clicks(48000, [0]), 'now')
    const b = sound.play(clicks(24000, [0]), a)
    expect(sound.heardAt(b, 0)).toBeNull()
    clock.pass(999)
    expect(events.map(e => e.kind === 'started' && e.id)).toEqual([a])
    clock.pass(2)
    expect(events).toHaveLength(2)
    expect(events[1]?.at).toBeCloseTo(6000, 0)
    expect((sound.heardAt(b, 0) ?? 0) - (sound.heardAt(a, 0) ?? 0)).toBeCloseTo(1000, 9)
  })

  test('a hundred queued programs leave no gap and no drift', async () => {
    const { clock, sound } = await setUp()
    const bar = tempo(92, 4)
    let last = sound.play(bar, 'now')
    const first = last
    for (let i = 0; i < 40; i++) last = sound.play(bar, last)
    clock.pass(60_000)
    const expected = ((40 * bar.frames) / 48000) * 1000
    const between = (sound.heardAt(last, 0) ?? Number.NaN) - (sound.heardAt(first, 0) ?? Number.NaN)
    clock.pass(60_000)
    expect(expected).toBeGreaterThan(60_000)
    expect(between).toBeNaN()
    expect((sound.heardAt(last, 0) ?? 0) - (sound.heardAt(first, 0) ?? 0)).toBeCloseTo(expected, 6)
  })

  test('now cuts: the new program is heard 20 ms later, the rest of the old one never', async () => {
    const { clock, sound, events } = await setUp()
    const a = sound.play(tempo(60, 4), 'now')
    clock.pass(1500)
    const b = sound.play(tempo(100, 4), 'now')
    clock.pass(25)
    const cut = events.find(e => e.kind === 'cut')
    expect(cut).toMatchObject({ id: a })
    expect(cut?.kind === 'cut' && Math.abs(cut.frame - 72000)).toBeLessThanOrEqual(1)
    expect(sound.heardAt(a, 48000)).toBeCloseTo(6000, 1)
    expect(sound.heardAt(a, 96000)).toBeNull()
    expect(sound.heardAt(b, 0)).toBeCloseTo(6520, 1)
  })

  test('stop cuts and forgets the queue', async () => {
    const { clock, sound, events } = await setUp()
    const a = sound.play(tempo(60, 4), 'now')
    const b = sound.play(tempo(60, 4), a)
    clock.pass(1000)
    sound.stop()
    clock.pass(10_000)
    expect(events.filter(e => e.kind === 'cut').map(e => e.id)).toEqual([a, b])
    expect(events.filter(e => e.kind === 'started').map(e => e.id)).toEqual([a])
  })

  test("the user's offset makes everything later, both ways", async () => {
    const { clock, sound } = await setUp(180)
    const id = sound.play(tempo(60, 4), 'now')
    clock.pass(10)
    expect(sound.heardAt(id, 0)).toBeCloseTo(5180, 1)
    expect(sound.frameAt(id, sound.heardAt(id, 12345) ?? 0)).toBe(12345)
  })

  test('a program of another rate is an error of the caller', async () => {
    const { sound } = await setUp()
    expect(() => sound.play({ ...tempo(60, 4), rate: 44100 }, 'now')).toThrow(RangeError)
  })

  test('a listener that queues the next program when one begins hears all of them', async () => {
    const { clock, sound, events } = await setUp()
    const bar = tempo(120, 2)
    sound.on(e => {
      if (e.kind === 'started' && e.id < 5) sound.play(bar, e.id)
    })
    sound.play(bar, 'now')
    clock.pass(6000)
    expect(events.map(e => e.kind === 'started' && e.id)).toEqual([1, 2, 3, 4, 5])
  })

  test('after close nothing is said any more', async () => {
    const { clock, sound, events } = await setUp()
    const a = sound.play(tempo(120, 2), 'now')
    sound.play(tempo(120, 2), a)
    clock.pass(10)
    await sound.close()
    clock.pass(10_000)
    expect(events).toHaveLength(1)
  })

  test('in real time it runs without an injected clock', async () => {
    const now = () => Number(process.hrtime.bigint()) / 1e6
    const sound = await openSound({ output: 'silent', now, player: PLAYER, levels: DEFAULT_LEVELS })
    const began = now()
    const a = sound.play(clicks(480, [0]), 'now')
    const b = sound.play(clicks(480, [0]), a)
    await new Promise<void>(resolve => {
      sound.on(e => {
        if (e.kind === 'started' && e.id === b) resolve()
      })
    })
    expect(now() - began).toBeGreaterThan(9)
    expect(sound.output()).toBe('silent')
    await sound.close()
  })
})
