import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import type { Placed } from '../../src/click/program.ts'
import { renderer } from '../../src/click/render.ts'
import type { Levels } from '../../src/click/voices.ts'
import { openSound } from '../../src/sound/open-sound.ts'
import { DEVICES, type Device } from '../../src/sound/outputs/output.ts'
import type { SoundEvent } from '../../src/sound/sound.ts'
import { RATE } from '../../src/sound/stream.ts'
import { CUT_GAP } from '../../src/sound/timeline.ts'
import { missing, onsetsIn, type Pulse, startPulse } from './pulse.ts'
import { clock, PLAYER, tempo } from './scene.ts'

const lacks = missing()
if (lacks) process.stderr.write(`The sound server tests are left out: ${lacks} is not installed.\n`)

/** Not the ones a sound process begins with: they have to arrive too. */
const LEVELS: Levels = { master: 'f', character: 'bright', roles: { downbeat: 'f', beat: 'p' } }

const wait = (ms: number) => new Promise(r => setTimeout(r, ms))

/** Left channel of a timeline, rendered without a device. */
const offline = (timeline: readonly Placed[], frames: number): Int16Array => {
  const stereo = new Int16Array(2 * frames)
  renderer(RATE, LEVELS)(timeline, 0, stereo)
  return Int16Array.from({ length: frames }, (_, i) => stereo[2 * i] as number)
}

const gaps = (onsets: readonly number[]): number[] => onsets.slice(1).map((f, i) => f - (onsets[i] as number))

/**
 * Three tempos that fall on no block boundary: the second queued behind the first, the third cut in its middle by a
 * fourth. What the loudspeaker got, beside what it should have got.
 */
const playThrough = async (pulse: Pulse, device: Device, skip: (note: string) => void) => {
  const recording = pulse.record()
  await wait(150)
  const sound = await openSound({
    output: device,
    now: clock,
    player: PLAYER,
    levels: LEVELS,
    deep: true,
  })
  const absent = sound.refused().find(r => /not installed|not built|another Node|libasound2/.test(r.why))
  if (absent) {
    await sound.close()
    await recording.stop()
    skip(`${device}: ${absent.why}`)
  }
  const events: SoundEvent[] = []
  const heard = (test: (e: SoundEvent) => boolean) =>
    new Promise<void>(resolve => {
      sound.on(e => {
        events.push(e)
        if (test(e)) resolve()
      })
    })
  const first = tempo(287, 4, 'downbeat')
  const second = tempo(311, 4)
  const third = tempo(193, 8)
  const fourth = tempo(401, 5, 'downbeat')
  const a = sound.play(first, 'now')
  const b = sound.play(second, a)
  const c = sound.play(third, b)
  await heard(e => e.k === 'started' && e.id === c)
  await wait(700)
  const d = sound.play(fourth, 'now')
  await heard(e => e.k === 'started' && e.id === d)
  const foretold = sound.heardAt(a, 0) ?? Number.NaN
  const followed = (sound.heardAt(b, 0) ?? Number.NaN) - foretold
  await wait(1200)
  const output = sound.output()
  await sound.close()
  const { samples, heardAt } = await recording.stop()

  const cut = events.find(e => e.k === 'cut')
  const cutAt = first.frames + second.frames + (cut?.k === 'cut' ? cut.frame : Number.NaN)
  const timeline: Placed[] = [
    { id: a, at: 0, program: first },
    { id: b, at: first.frames, program: second },
    { id: c, at: first.frames + second.frames, program: third, cut: cutAt },
    { id: d, at: cutAt + CUT_GAP, program: fourth },
  ]
  const expected = offline(timeline, cutAt + CUT_GAP + fourth.frames)
  const begin = onsetsIn(samples)[0] ?? 0
  const lead = onsetsIn(expected)[0] ?? 0
  const got = samples.subarray(begin - lead, begin - lead + expected.length)
  return {
    output,
    troubles: events.filter(e => e.k === 'trouble'),
    cut,
    followed: Math.round((followed * RATE) / 1000),
    distance: first.frames,
    wrong: expected.findIndex((s, i) => s !== got[i]),
    got: gaps(onsetsIn(got)),
    expected: gaps(onsetsIn(expected)),
    offMs: foretold - (heardAt + ((begin - lead) * 1000) / RATE),
  }
}

describe.skipIf(lacks !== null)('through a real sound server', () => {
  let pulse: Pulse
  beforeAll(async () => {
    pulse = await startPulse()
    for (const [k, v] of Object.entries(pulse.env)) vi.stubEnv(k, v)
  })
  afterAll(() => {
    vi.unstubAllEnvs()
    pulse?.close()
  })

  test.for(DEVICES)('%s plays every click at its sample, queued and cut', async (device, { skip }) => {
    let r = await playThrough(pulse, device, skip)
    // A gap makes an interval longer; then, and only then, once more.
    if (r.got.some((g, i) => g > (r.expected[i] ?? g))) {
      process.stdout.write(`${device}: a gap (${JSON.stringify(r.troubles)}), once more\n`)
      r = await playThrough(pulse, device, skip)
    }
    process.stdout.write(`${device}: heard ${r.offMs.toFixed(1)} ms before it was foretold\n`)
    expect(r.output).toBe(device)
    expect(r.cut).toMatchObject({ k: 'cut' })
    expect(r.followed).toBe(r.distance)
    expect(r.got).toEqual(r.expected)
    expect(r.expected.length).toBeGreaterThan(12)
    // Not only the intervals: every sample is the one that was rendered.
    expect(r.wrong).toBe(-1)
    expect(r.troubles).toEqual([])
    expect(Math.abs(r.offMs)).toBeLessThan(20)
  })
})
