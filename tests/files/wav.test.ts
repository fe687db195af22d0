import { describe, expect, test } from 'vitest'
import { renderer } from '../../src/click/render.ts'
import { DEFAULT_LEVELS } from '../../src/click/voices.ts'
import { type Wav, type WavOptions, wavOf } from '../../src/files/wav.ts'
import { frac } from '../../src/music/fraction.ts'
import { sentence } from '../../src/music/result.ts'
import { bare, music, onset, played, RATE } from '../click/support.ts'

const OPTIONS: WavOptions = { rate: RATE, channels: 2, levels: DEFAULT_LEVELS }
const program = played(music('3/4', 4, '132', frac(1, 4)), { countIn: 1, subdivide: 2 })
const timeline = [{ id: 1, at: 0, program }]

const made = (o: Partial<WavOptions> = {}, of = timeline): Wav => {
  const r = wavOf(of, { ...OPTIONS, ...o })
  if (!r.ok) throw new Error(sentence(r.problem))
  return r.value
}
const file = (w: Wav): Buffer => Buffer.concat([...w.chunks()])

describe('a sound file', () => {
  test.each([1, 2] as const)('in %d channels has as many frames and bytes as it says', channels => {
    const w = made({ channels })
    expect(w.frames).toBe(program.frames)
    expect(w.bytes).toBe(44 + program.frames * channels * 2)
    expect(file(w).length).toBe(w.bytes)
  })

  test('holds the samples of the renderer', () => {
    const one = new Int16Array(2 * program.frames)
    renderer(RATE, DEFAULT_LEVELS)(timeline, 0, one)
    expect(Buffer.compare(file(made()).subarray(44), Buffer.from(one.buffer))).toBe(0)
  })

  test('can be made of any exact length: an hour is 172,800,000 frames', () => {
    expect(made({ channels: 1, frames: 3600 * RATE }).bytes).toBe(345_600_044)
    const short = file(made({ channels: 1, frames: 12_345 }))
    expect(short.readUInt32LE(40)).toBe(2 * 12_345)
    expect(short.length).toBe(44 + 2 * 12_345)
  })

  test('ends with the last program, or with the fade of its cut', () => {
    const second = { id: 2, at: program.frames, program }
    expect(made({}, [...timeline, second]).frames).toBe(2 * program.frames)
    const cut = { id: 1, at: 0, program, cut: 1000 }
    expect(wavOf([cut], OPTIONS)).toMatchObject({ ok: true, value: { frames: 1240 } })
  })

  test('can be produced twice, with the same bytes', () => {
    const w = made()
    expect(Buffer.compare(file(w), file(w))).toBe(0)
  })

  test('longer than the format holds is refused by name', () => {
    const day = bare([onset('beat')], 24 * 3600 * RATE)
    const r = wavOf([{ id: 1, at: 0, program: day }], OPTIONS)
    expect(r).toEqual({
      ok: false,
      problem: {
        field: 'length of the sound file',
        got: '1440 minutes',
        accepted: 'at most 372 minutes in one file',
      },
    })
  })

  test('is not made of programs for another rate', () => {
    expect(() => wavOf(timeline, { ...OPTIONS, rate: 44_100 })).toThrow(RangeError)
  })
})
