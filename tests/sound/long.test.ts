import { expect, test } from 'vitest'
import { DEFAULT_LEVELS } from '../../src/click/voices.ts'
import { openSound } from '../../src/sound/open-sound.ts'
import { tempo } from './scene.ts'
import { virtualClock } from './virtual-clock.ts'

const HOUR = 3_600_000

test('24 hours of clicks, one program behind the other: no drift, and no more is remembered than at the start', async () => {
  const clock = virtualClock()
  const sound = await openSound({
    output: 'silent',
    now: clock.now,
    player: new URL('file:///none'),
    levels: DEFAULT_LEVELS,
    silent: clock,
  })
  // Four beats at 92: 125,217 frames and 9/23, rounded to whole frames.
  const bars = tempo(92, 4)
  const begun: { id: number; index: number }[] = []
  let last = 0
  let index = 0
  let first: number | null = null
  sound.on(e => {
    if (e.kind !== 'started') return
    first ??= sound.heardAt(e.id, 0)
    begun.push({ id: e.id, index: index++ })
    if (begun.length > 3) begun.shift()
    last = sound.play(bars, last)
  })
  last = sound.play(bars, 'now')
  last = sound.play(bars, last)
  for (let hour = 1; hour <= 24; hour++) {
    clock.pass(HOUR)
    const now = begun.at(-1)
    if (!now) throw new Error('nothing has begun')
    const exact = (first ?? Number.NaN) + (now.index * bars.frames * 1000) / 48_000
    expect(Math.abs((sound.heardAt(now.id, 0) ?? Number.NaN) - exact)).toBeLessThan(0.001)
    expect(
      Math.abs((sound.frameAt(now.id, clock.now()) ?? Number.NaN) * 1000 - (clock.now() - exact) * 48_000),
    ).toBeLessThan(600)
  }
  expect(index).toBeGreaterThan(33_000)
  // What is remembered of programs that are over is bounded: an early one is forgotten.
  expect(sound.heardAt(1, 0)).toBeNull()
  await sound.close()
})
