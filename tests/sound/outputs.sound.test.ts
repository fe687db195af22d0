import { afterEach, describe, expect, inject, test, vi } from 'vitest'
import type { Placed } from '../../src/click/program.ts'
import { renderer } from '../../src/click/render.ts'
import type { Levels } from '../../src/click/voices.ts'
import { beginSound } from '../../src/sound/open-sound.ts'
import { DEVICES, type Device } from '../../src/sound/outputs/output.ts'
import type { SoundEvent } from '../../src/sound/sound.ts'
import { RATE } from '../../src/sound/stream.ts'
import { CUT_GAP } from '../../src/sound/timeline.ts'
import { lasting } from '../../src/sound/why.ts'
import { onsetsIn, type Room, roomOf } from './pulse.ts'
import { clock, PLAYER, tempo } from './scene.ts'

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
 * fourth. What the loudspeaker got, beside what it should have got; or why this output is not here.
 */
const playThrough = async (room: Room, device: Device, sink: string) => {
  const recording = room.record(sink)
  await wait(150)
  // What is forked now plays into this sink.
  vi.stubEnv('PULSE_SINK', sink)
  const sound = beginSound({ output: device, now: clock, player: PLAYER, levels: LEVELS, deep: true })
  const events: SoundEvent[] = []
  const heard = (is: (e: SoundEvent) => boolean) =>
    new Promise<void>(resolve => {
      sound.on(e => {
        events.push(e)
        if (is(e)) resolve()
      })
    })
  await sound.ready()
  const absent = sound.refused().find(r => lasting(r.why))
  if (absent) {
    await sound.close()
    await recording.stop()
    return absent.why
  }
  if (sound.output() === 'silent') await heard(e => e.kind === 'output')
  const first = tempo(287, 4, 'downbeat')
  const second = tempo(311, 4)
  const third = tempo(193, 8)
  const fourth = tempo(401, 5, 'downbeat')
  const a = sound.play(first, 'now')
  const b = sound.play(second, a)
  const c = sound.play(third, b)
  await heard(e => e.kind === 'started' && e.id === c)
  await wait(700)
  const d = sound.play(fourth, 'now')
  await heard(e => e.kind === 'started' && e.id === d)
  const foretold = sound.heardAt(a, 0) ?? Number.NaN
  const followed = (sound.heardAt(b, 0) ?? Number.NaN) - foretold
  await wait(1200)
  const output = sound.output()
  await sound.close()
  const { samples, heardAt } = await recording.stop()

  const cut = events.find(e => e.kind === 'cut')
  const cutAt = first.frames + second.frames + (cut?.kind === 'cut' ? cut.frame : Number.NaN)
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
    troubles: events.filter(e => e.kind === 'trouble'),
    cut,
    followed: Math.round((followed * RATE) / 1000),
    distance: first.frames,
    wrong: expected.findIndex((s, i) => s !== got[i]),
    got: gaps(onsetsIn(got)),
    expected: gaps(onsetsIn(expected)),
    offMs: foretold - (heardAt + ((begin - lead) * 1000) / RATE),
  }
}

afterEach(() => {
  vi.unstubAllEnvs()
})

/** A recording with a gap in it says nothing about what was rendered: another one, at most so often. */
const TRIES = 4

const env = inject('soundServer')
describe.skipIf(env === null)('through a real sound server', () => {
  test('every output plays every click at its sample, queued and cut', async ({ annotate }) => {
    const room = roomOf(env ?? {})
    for (const [k, v] of Object.entries(room.env)) vi.stubEnv(k, v)
    for (const d of DEVICES) await room.addSink(`exact-${d}`, d)
    const exact = async (device: Device): Promise<void> => {
      let r = await playThrough(room, device, `exact-${device}`)
      for (let tries = 1; typeof r !== 'string' && r.wrong !== -1; tries++) {
        if (tries === TRIES) break
        process.stdout.write(`${device}: a gap (${JSON.stringify(r.troubles)}), once more\n`)
        r = await playThrough(room, device, `exact-${device}`)
      }
      if (typeof r === 'string') return void (await annotate(`${device} is left out: ${r}`))
      process.stdout.write(`${device}: heard ${r.offMs.toFixed(1)} ms before it was foretold\n`)
      expect(r.output).toBe(device)
      expect(r.cut, device).toMatchObject({ kind: 'cut' })
      expect(r.followed, device).toBe(r.distance)
      expect(r.got, device).toEqual(r.expected)
      expect(r.expected.length).toBeGreaterThan(12)
      // Not only the intervals: every sample is the one that was rendered.
      expect(r.wrong, device).toBe(-1)
      expect(Math.abs(r.offMs), device).toBeLessThan(25)
    }
    await Promise.all(DEVICES.map(exact))
  })
})
