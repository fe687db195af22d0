import type { Placed } from '../../src/click/program.ts'
import { type Levels, voice } from '../../src/click/voices.ts'
import { type WavOptions, wavOf } from '../../src/files/wav.ts'
import { sentence } from '../../src/music/result.ts'
import { all, music, played, RATE } from '../click/support.ts'

/** The bytes of a sound file. */
export const wavFile = (timeline: readonly Placed[], o: Partial<WavOptions> = {}): Buffer => {
  const r = wavOf(timeline, { rate: RATE, channels: 1, levels: all('f'), ...o })
  if (!r.ok) throw new Error(sentence(r.problem))
  return Buffer.concat([...r.value.chunks()])
}

/** Thirty seconds of clicks at one tempo, mono, 48 kHz: 1,440,000 frames. */
export const halfMinute = (bpm: number): { timeline: readonly Placed[]; onsets: readonly number[] } => {
  const program = played(music('4/4', bpm, String(bpm)))
  const timeline = [{ id: 1, at: 0, program }]
  return { timeline, onsets: program.onsets.map(o => o.frame).filter(f => f < 30 * RATE) }
}

/** Peak of the downbeat at these levels, in dBFS. */
export const peakDb = (levels: Levels): number => {
  const wave = voice({ frame: 0, role: 'downbeat', measure: 1, beat: 1 }, RATE, levels)
  return 20 * Math.log10(wave.reduce((m, s) => Math.max(m, Math.abs(Math.round(s))), 0) / 32_768)
}
