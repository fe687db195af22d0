import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Placed } from '../../src/click/program.ts'
import { FADE, renderer } from '../../src/click/render.ts'
import { DEFAULT_LEVELS, type Levels, voice } from '../../src/click/voices.ts'
import { frac } from '../../src/music/fraction.ts'
import { energyAbove } from './spectrum.ts'
import { all, bare, music, onset, played, RATE } from './support.ts'

/** The first `frames` frames of a timeline, rendered in blocks of one size (one value a sample). */
const rendered = (
  timeline: readonly Placed[],
  frames: number,
  block: number,
  levels: Levels,
  ch: 1 | 2 = 2,
) => {
  const render = renderer(RATE, levels, ch)
  const whole = new Int16Array(frames * ch)
  for (let f = 0; f < frames; f += block)
    render(timeline, f, whole.subarray(f * ch, Math.min(f + block, frames) * ch))
  return whole
}

/** The sum of all voices written out sample by sample, without any of the renderer's short cuts. */
const summed = (timeline: readonly Placed[], frames: number, levels: Levels): Float64Array => {
  const out = new Float64Array(frames)
  for (const { at, cut = Infinity, program } of timeline)
    for (const o of program.onsets) {
      if (at + o.frame >= cut) continue
      voice(o, RATE, levels).forEach((s, i) => {
        const f = at + o.frame + i
        const fade = f < cut ? 1 : Math.max(0, 0.5 + 0.5 * Math.cos((Math.PI * (f - cut)) / (FADE * RATE)))
        if (f < frames && f < cut + FADE * RATE) out[f] = (out[f] as number) + Math.round(s) * fade
      })
    }
  return out
}

const busy = played(music('7/8', 2, 'eighth=208', frac(1, 8)), {
  countIn: 1,
  subdivide: 2,
  guide: { ratios: [3, 1], group: frac(1, 4) },
})
/** A cut in the middle of a click, and the next program 20 ms later. */
const midClick = (busy.onsets[12]?.frame ?? 0) + 400
const cutTimeline: readonly Placed[] = [
  { id: 1, at: 700, program: busy, cut: 700 + midClick },
  { id: 2, at: 700 + midClick + 960, program: busy },
]

describe('samples', () => {
  test.each([1, 7, 480, 1024, 4096])('in blocks of %d frames are the same as in one piece', block => {
    const frames = 4 * RATE
    const whole = rendered(cutTimeline, frames, frames, DEFAULT_LEVELS)
    expect(whole.some(s => s !== 0)).toBe(true)
    expect(Buffer.compare(bytes(rendered(cutTimeline, frames, block, DEFAULT_LEVELS)), bytes(whole))).toBe(0)
  })

  test('are the rounded sum of the voices, and equal on both sides', () => {
    const frames = 4 * RATE
    const stereo = rendered(cutTimeline, frames, 4096, DEFAULT_LEVELS)
    const mono = rendered(cutTimeline, frames, 1024, DEFAULT_LEVELS, 1)
    const sum = summed(cutTimeline, frames, DEFAULT_LEVELS)
    for (let i = 0; i < frames; i++) {
      if (stereo[2 * i] !== mono[i] || stereo[2 * i + 1] !== mono[i]) expect.fail(`sides differ at ${i}`)
      if (Math.abs((mono[i] as number) - (sum[i] as number)) > 2) expect.fail(`${i}: ${mono[i]} ${sum[i]}`)
    }
  })

  test('are the same for any timeline, any cut and any block', () => {
    const placed = fc.record({ at: fc.nat(20_000), cut: fc.option(fc.nat(30_000), { nil: undefined }) })
    fc.assert(
      fc.property(
        fc.array(placed, { minLength: 1, maxLength: 3 }),
        fc.integer({ min: 1, max: 9000 }),
        (places, block) => {
          const timeline = places.map(({ at, cut }, id) => ({
            id,
            at,
            program: busy,
            ...(cut === undefined ? {} : { cut: at + cut }),
          }))
          const one = rendered(timeline, 60_000, 60_000, DEFAULT_LEVELS, 1)
          expect(
            Buffer.compare(bytes(rendered(timeline, 60_000, block, DEFAULT_LEVELS, 1)), bytes(one)),
          ).toBe(0)
        },
      ),
      { numRuns: 60 },
    )
  })

  test('before, between and after the clicks are silent, and the renderer says so', () => {
    const program = bare([onset('beat', 1000)], RATE)
    const render = renderer(RATE, DEFAULT_LEVELS)
    const block = new Int16Array(2 * 1000).fill(99)
    expect(render([{ id: 1, at: 0, program }], 0, block)).toBe(false)
    expect(block.every(s => s === 0)).toBe(true)
    expect(render([{ id: 1, at: 0, program }], 1000, block)).toBe(true)
    expect(block[0]).not.toBe(0)
    expect(render([{ id: 1, at: 0, program }], 10_000, block.fill(99))).toBe(false)
    expect(block.every(s => s === 0)).toBe(true)
  })
})

test('a click on the last frame of a program is heard to its end, whatever comes next', () => {
  const program = bare([onset('beat', 999)], 1000)
  const alone = rendered([{ id: 1, at: 0, program }], RATE, 480, DEFAULT_LEVELS, 1)
  const wave = Int16Array.from(voice(onset('beat'), RATE, DEFAULT_LEVELS), Math.round)
  expect(alone.subarray(999, 999 + wave.length)).toEqual(wave)
})

describe('a cut', () => {
  test('fades all voices that sound together', () => {
    const together = bare([onset('beat', 0), onset('guide', 0), onset('sub', 300)], RATE)
    const timeline = [{ id: 1, at: 0, program: together, cut: 600 }]
    const sum = summed(timeline, RATE, all('f'))
    rendered(timeline, RATE, 480, all('f'), 1).forEach((s, i) => {
      if (Math.abs(s - (sum[i] as number)) > 2) expect.fail(`${i}: ${s} ${sum[i]}`)
    })
  })

  const program = bare([onset('downbeat', 0), onset('beat', 24_000)], RATE)
  // A bright click has partials of its own up to 12 kHz, so there a crack is looked for above them.
  test.each([
    ['wood', 6000],
    ['bright', 15_000],
  ] as const)('in the middle of a %s click fades without a crack (above %d Hz)', (character, above) => {
    // At the crest of the wave, where a hard cut is worst.
    const full = rendered([{ id: 1, at: 0, program }], RATE, 480, all('f', character), 1)
    let cut = 480
    for (let i = 480; i < 620; i++) if (Math.abs(full[i] as number) > Math.abs(full[cut] as number)) cut = i
    const hard = full.slice().fill(0, cut)
    const soft = rendered([{ id: 1, at: 0, program, cut }], RATE, 480, all('f', character), 1)
    expect(soft.subarray(0, cut + 1)).toEqual(full.subarray(0, cut + 1))
    const around = (x: Int16Array) => energyAbove(x.subarray(cut - 256, cut + 256), RATE, above)
    expect(around(hard) - around(soft)).toBeGreaterThan(30)
  })

  test('is over after five milliseconds, and nothing after it sounds', () => {
    const soft = rendered([{ id: 1, at: 0, program, cut: 500 }], RATE, 480, all('f'), 1)
    expect(soft.subarray(500 + FADE * RATE).every(s => s === 0)).toBe(true)
    expect(soft.subarray(500, 700).some(s => s !== 0)).toBe(true)
  })

  test('exactly at an onset keeps that onset silent', () => {
    const soft = rendered([{ id: 1, at: 0, program, cut: 24_000 }], RATE, 480, all('f'), 1)
    expect(soft.subarray(24_000).every(s => s === 0)).toBe(true)
  })
})

describe('no clipping', () => {
  test.each(['wood', 'bright', 'unpitched'] as const)('with every %s voice at ff together', character => {
    const levels = all('ff', character)
    const form = {
      ...music('4/4', 2, '208'),
      breaths: [1, 2, 3, 4, 5, 6, 7].map(n => ({ at: frac(n, 4), kind: 'breath' as const, adds: frac(0) })),
    }
    const guide = { ratios: [1, 3], group: frac(1, 4) }
    for (const tempo of ['60', '208', '400']) {
      const program = played(form, { countIn: 1, subdivide: 4, guide }, tempo)
      const frames = program.frames + RATE
      const sum = summed([{ id: 1, at: 0, program }], frames, levels)
      const top = sum.reduce((m, s) => Math.max(m, Math.abs(s)), 0)
      expect(top).toBeGreaterThan(8000)
      // What is left has room for a tone beside it, whatever its phase: -17 dBFS, the loudest that a warm-up has.
      expect(top + 32_767 * 10 ** (-17 / 20)).toBeLessThanOrEqual(32_767)
    }
  })
})

const bytes = (a: Int16Array): Buffer => Buffer.from(a.buffer, a.byteOffset, a.byteLength)
