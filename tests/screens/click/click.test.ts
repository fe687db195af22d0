import { describe, expect, test } from 'vitest'
import { frac } from '../../../src/music/fraction.ts'
import { noteOf } from '../../../src/screens/click/reduce.ts'
import { clickStage, type Heard } from './stage.ts'

const seconds = (all: readonly Heard[]): number[] => all.map(h => h.seconds)
/** Distances between clicks, to the nearest tenth of a millisecond. */
const distances = (all: readonly Heard[]): number[] =>
  all.slice(1).map((h, i) => Math.round((h.seconds - (all[i]?.seconds ?? 0)) * 10_000) / 10_000)

describe('just the click', () => {
  test('sounds from the press on, exactly in tempo, for as long as nobody stops it', async () => {
    const s = await clickStage({ tempo: '92' })
    await s.clock.run(3000)
    expect(s.heard()).toEqual([])
    await s.key('PageDown')
    await s.clock.run(600_100)
    const heard = s.heard()
    // 600 s at 92 a minute: clicks 0 to 920.
    expect(heard).toHaveLength(921)
    for (const [i, t] of seconds(heard).entries())
      expect(Math.abs(t - (i * 60) / 92), `click ${i}`).toBeLessThanOrEqual(0.5 / 48_000 + 1e-9)
    expect(heard.filter(h => h.role === 'downbeat')).toHaveLength(231)
    await s.key('PageDown')
    await s.clock.run(5000)
    expect(s.heard()).toHaveLength(921)
  })

  test('either pedal stops; the left one taps while nothing sounds', async () => {
    const s = await clickStage()
    await s.key('PageDown')
    await s.clock.run(2000)
    await s.key('PageUp')
    expect(s.conductor.state().going).toBe(false)
    // The foot is still on the pedal: its repeats are no taps.
    for (let i = 0; i < 10; i++) {
      await s.clock.run(33)
      await s.key('PageUp')
    }
    expect(noteOf(s.conductor.state())).toBe('')
    await s.clock.run(2000)
    for (let i = 0; i < 4; i++) {
      await s.key('PageUp')
      await s.clock.run(476)
    }
    expect(noteOf(s.conductor.state())).toBe('about quarter = 126, a mark of the scale; Enter takes it')
    await s.key('Enter')
    await s.key('Enter')
    await s.clock.run(2000)
    expect(distances(s.heard().slice(-4))).toEqual([0.4762, 0.4762, 0.4762])
  })

  test('a new tempo begins at the next bar line, and not one click wavers', async () => {
    const s = await clickStage({ tempo: '120' })
    await s.key('PageDown')
    await s.clock.run(2700)
    // In the second measure, at its second beat.
    await s.key(']')
    expect(s.conductor.turning()).toBe(true)
    await s.clock.run(5000)
    expect(s.conductor.turning()).toBe(false)
    const at126 = 60 / 126
    const expected = [
      ...Array.from({ length: 8 }, (_, i) => i * 0.5),
      ...[0, 1, 2, 3].map(i => 4 + i * at126),
    ]
    for (const [i, t] of expected.entries()) expect(s.heard()[i]?.seconds).toBeCloseTo(t, 4)
    expect(
      s
        .heard()
        .slice(0, 12)
        .map(h => h.measure),
    ).toEqual([1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3])
  })

  test('asked for just before the bar line it begins at the one after, so that the beat is never broken', async () => {
    const s = await clickStage({ tempo: '120' })
    await s.key('PageDown')
    await s.clock.run(1900)
    await s.key(']')
    await s.clock.run(6000)
    expect(distances(s.heard()).slice(0, 8)).toEqual(Array(8).fill(0.5))
    expect(distances(s.heard())[8]).toBe(0.4762)
  })

  test('several changes in a row: only the last one is heard', async () => {
    const s = await clickStage({ tempo: '120' })
    await s.key('PageDown')
    await s.clock.run(500)
    for (const key of [']', ']', ']', '[', 'm', 'm']) {
      await s.key(key)
      await s.clock.run(30)
    }
    await s.clock.run(4000)
    // 4/4 to 5/4 to 2/2, at half = 132.
    expect(distances(s.heard()).slice(0, 6)).toEqual([0.5, 0.5, 0.5, 0.5, 0.4545, 0.4545])
    expect(
      s
        .heard()
        .slice(4, 8)
        .map(h => h.role),
    ).toEqual(['downbeat', 'beat', 'downbeat', 'beat'])
  })

  test('measures shorter than a beat of the foot follow each other as exactly', async () => {
    const s = await clickStage({ tempo: 'eighth=999', meter: '1/8' })
    await s.key('PageDown')
    await s.clock.run(30_000)
    const heard = seconds(s.heard())
    for (const [i, t] of heard.entries()) expect(Math.abs(t - (i * 60) / 999)).toBeLessThan(1 / 48_000)
    expect(heard.length).toBeGreaterThan(490)
  })

  test('four seconds at least are queued, so that a busy screen is not heard', async () => {
    const s = await clickStage({ tempo: '208', meter: '2/4' })
    await s.key('PageDown')
    for (let i = 0; i < 40; i++) {
      await s.clock.run(137)
      expect(s.queued()).toBeGreaterThanOrEqual(4)
      expect(s.queued()).toBeLessThan(7)
    }
  })

  test('a count-in comes first, once; a change in it begins it anew', async () => {
    const s = await clickStage({ tempo: '60', meter: '3/4', more: { countIn: 1 } })
    await s.key('PageDown')
    await s.clock.run(1500)
    await s.key(']')
    await s.clock.run(5000)
    const roles = s.heard().map(h => h.role)
    expect(roles).toEqual([
      ...['countIn', 'countIn'],
      ...['countIn', 'countIn', 'countIn', 'downbeat', 'beat', 'beat'],
    ])
    expect(distances(s.heard().slice(2))).toEqual(Array(5).fill(0.9524))
  })

  test('some beats, some measures, in the note value that is counted', async () => {
    const s = await clickStage({
      tempo: 'dotted-quarter=60',
      meter: '6/8',
      more: { pulse: frac(1, 8), only: { beats: [1, 4], measures: { on: 1, off: 1 } } },
    })
    await s.key('PageDown')
    await s.clock.run(9100)
    expect(seconds(s.heard())).toEqual([0, 1, 4, 5, 8, 9])
  })

  test('what is heard is known at each moment', async () => {
    const s = await clickStage({ tempo: '60' })
    expect(s.conductor.heard()).toBeNull()
    await s.key('PageDown')
    await s.clock.run(6200)
    const { program, frame } = s.conductor.heard() ?? {}
    const at = program?.onsets.findLast(o => o.frame <= (frame ?? 0))
    expect(at).toMatchObject({ measure: 2, beat: 3 })
  })

  test('f leaves and silences it', async () => {
    const s = await clickStage()
    await s.key('PageDown')
    await s.clock.run(1000)
    await s.key('f')
    expect(s.left()).toBe(true)
    const heard = s.heard().length
    await s.clock.run(3000)
    expect(s.heard()).toHaveLength(heard)
  })
})

test('when the sound breaks off, the click goes on by itself, in time, and says so in one line each', async () => {
  const s = await clickStage({ tempo: '92' })
  await s.key('PageDown')
  await s.clock.run(10_000)
  s.hear({ kind: 'trouble', what: 'stalled', output: 'naudiodon' })
  expect(noteOf(s.conductor.state())).toBe('The sound broke off; it is being looked for.')
  await s.clock.run(1000)
  s.hear({ kind: 'output', name: 'audio-io' })
  expect(noteOf(s.conductor.state())).toBe('The sound is back (audio-io).')
  expect(s.conductor.state().going).toBe(true)
  await s.clock.run(49_100)
  expect(s.heard()).toHaveLength(93)
})
