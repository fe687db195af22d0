import { compile } from '../../src/click/compile.ts'
import type { CompileOptions, Onset, Program, Role } from '../../src/click/program.ts'
import { ROLES } from '../../src/click/program.ts'
import type { Character, Dynamic, Levels } from '../../src/click/voices.ts'
import { type Form, plainForm } from '../../src/music/form.ts'
import { type Frac, frac, zero } from '../../src/music/fraction.ts'
import { type Meter, parseMeter } from '../../src/music/meter.ts'
import type { Result } from '../../src/music/result.ts'
import { parseTempo, type Tempo } from '../../src/music/tempo.ts'

export const RATE = 48_000

const sure = <T>(r: Result<T>): T => {
  if (!r.ok) throw new Error(`${r.problem.field}: ${r.problem.got}`)
  return r.value
}
export const meter = (s: string): Meter => sure(parseMeter(s))
export const tempoOf = (s: string): Tempo => sure(parseTempo(s))

/** So many measures of one meter at one tempo, with a pick-up of a given length. */
export const music = (m: string, count: number, t: string, pickup: Frac = zero): Form =>
  plainForm(meter(m), count, tempoOf(t), pickup)

const PLAIN: CompileOptions = { countIn: 0, subdivide: 1, rate: RATE }

/** The form's program at its own written tempo, or at another one. */
export const played = (form: Form, o: Partial<CompileOptions> = {}, at?: string): Program =>
  compile(form, at === undefined ? (form.marks[0]?.tempo as Tempo) : tempoOf(at), { ...PLAIN, ...o })

export const framesOf = (p: Program, ...roles: readonly Role[]): number[] =>
  p.onsets.filter(o => roles.length === 0 || roles.includes(o.role)).map(o => o.frame)

/** Frames before the first note: the count-in's beats, without subdivisions. */
export const countInFrames = (p: Program): number[] =>
  p.onsets.filter(o => o.frame < p.firstNote && o.role !== 'sub').map(o => o.frame)

/** Two programs of one form without count-in agree with times in seconds, to the nearest frame. */
export const nearest = (seconds: readonly number[]): number[] => seconds.map(s => Math.round(s * RATE))

/** Every role equally loud. */
export const all = (level: Dynamic, character: Character = 'wood', master: Dynamic = 'ff'): Levels => ({
  master,
  character,
  roles: Object.fromEntries(ROLES.map(r => [r, level])),
})

export const onset = (role: Role, frame = 0, beat = 2): Onset => ({ frame, role, measure: 1, beat })

/** A program with just these onsets. */
export const bare = (onsets: readonly Onset[], frames: number): Program => ({
  rate: RATE,
  frames,
  onsets,
  segments: [{ kind: 'passage', frame: 0 }],
  firstNote: 0,
  verdictFrom: 0,
  lastBeat: 0,
  end: frames,
})

export const eighths = (n: number): Frac => frac(n, 8)
