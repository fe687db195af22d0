import type { Onset, Program, Role } from '../../src/click/program.ts'
import { RATE } from '../../src/sound/stream.ts'

/** The bundled sound process, as players run it. */
export const PLAYER = new URL('../../dist/player.js', import.meta.url)

export const clock = (): number => Number(process.hrtime.bigint()) / 1e6

/** A program that clicks at these frames. */
export const clicks = (frames: number, at: readonly number[], role: Role = 'beat'): Program => ({
  rate: RATE,
  frames,
  onsets: at.map((frame, i): Onset => ({ frame, role, measure: 1, beat: i + 1 })),
  segments: [{ kind: 'passage', frame: 0 }],
  firstNote: 0,
  verdictFrom: 0,
  lastBeat: at.at(-1) ?? 0,
  end: frames,
})

/** `count` clicks at a tempo (BPM of the click), rounded from the start as the click engine does. */
export const tempo = (bpm: number, count: number, role?: Role): Program => {
  const at = Array.from({ length: count + 1 }, (_, i) => Math.round((i * 60 * RATE) / bpm))
  return clicks(at.at(-1) ?? 1, at.slice(0, -1), role)
}
