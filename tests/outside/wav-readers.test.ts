import { createRequire } from 'node:module'
import { describe, expect, test } from 'vitest'
import { WaveFile } from 'wavefile'
import { renderer } from '../../src/click/render.ts'
import { all, RATE } from '../click/support.ts'
import { halfMinute, peakDb, wavFile } from './sound-files.ts'
import { installed, orSkipped, runOn } from './tools.ts'

const nodeWav = createRequire(import.meta.url)('node-wav') as {
  decode: (b: Buffer) => { sampleRate: number; channelData: readonly Float32Array[] }
}

const { timeline } = halfMinute(92)
const mono = wavFile(timeline, { frames: 30 * RATE })
const stereo = wavFile(timeline, { frames: 30 * RATE, channels: 2 })
const samples = new Int16Array(30 * RATE)
renderer(RATE, all('f'), 1)(timeline, 0, samples)

// Source: npm wavefile 11 and node-wav 0.0.2, SoX (soxi) and libsndfile (sndfile-info): readers of the WAVE format.
describe('thirty seconds as a WAV file, as others read it', () => {
  test('npm wavefile 11: the header', () => {
    const read = new WaveFile(mono)
    expect(read.container).toBe('RIFF')
    expect(read.format).toBe('WAVE')
    expect(read.bitDepth).toBe('16')
    expect(read.fmt).toMatchObject({
      audioFormat: 1,
      numChannels: 1,
      sampleRate: 48_000,
      byteRate: 96_000,
      blockAlign: 2,
      bitsPerSample: 16,
    })
    expect(read.chunkSize).toBe(2_880_036)
    expect(read.data).toMatchObject({ chunkSize: 2_880_000 })
    expect(new WaveFile(stereo).fmt).toMatchObject({ numChannels: 2, byteRate: 192_000, blockAlign: 4 })
  })

  test('npm wavefile 11: every sample', () => {
    const read = new WaveFile(mono).getSamples(false, Int16Array) as unknown as Int16Array
    expect(read.length).toBe(1_440_000)
    expect(Buffer.compare(Buffer.from(read.buffer), Buffer.from(samples.buffer))).toBe(0)
  })

  test('npm node-wav 0.0.2: rate, length and every sample, the same on both sides', () => {
    const read = nodeWav.decode(stereo)
    expect(read.sampleRate).toBe(48_000)
    expect(read.channelData).toHaveLength(2)
    for (const side of read.channelData) {
      expect(side.length).toBe(1_440_000)
      const worst = side.reduce((m, s, i) => Math.max(m, Math.abs(s * 32_768 - (samples[i] as number))), 0)
      expect(worst).toBeLessThanOrEqual(1)
    }
  })

  test.skipIf(!installed('soxi'))(`soxi${orSkipped('soxi')}`, () => {
    const told = runOn(mono, 'soxi', path => [path])
    expect(told).toMatch(/Channels\s*: 1\n/)
    expect(told).toMatch(/Sample Rate\s*: 48000\n/)
    expect(told).toMatch(/00:00:30\.00 = 1440000 samples/)
    expect(told).toMatch(/16-bit Signed Integer PCM/)
  })

  test.skipIf(!installed('sndfile-info'))(`sndfile-info${orSkipped('sndfile-info')}`, () => {
    const told = runOn(mono, 'sndfile-info', path => [path])
    expect(told).toMatch(/Length : 2880044\n/)
    expect(told).toMatch(/RIFF : 2880036\n/)
    expect(told).toMatch(/Block Align\s*: 2\n/)
    expect(told).toMatch(/Frames\s*: 1440000\n/)
    const peak = Number(/Signal Max\s*:.*\((-?[\d.]+) dB\)/.exec(told)?.[1])
    expect(peak).toBeCloseTo(peakDb(all('f')), 1)
  })
})
