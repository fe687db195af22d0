import { compile } from '../click/compile.ts'
import type { Program } from '../click/program.ts'
import { type Form, plainForm } from '../music/form.ts'
import { frac, mul, zero } from '../music/fraction.ts'
import type { Tempo } from '../music/tempo.ts'
import { type Exercise, movedBy } from './exercises.ts'

/** `turn` counts within the exercise from 0; `heard` = seconds of it that were heard to their end. */
export type WarmUpState = {
  readonly exercises: readonly Exercise[]
  readonly exercise: number
  readonly turn: number
  readonly heard: number
  readonly shift: number
  readonly toneOn: boolean
  readonly phase: 'ready' | 'going' | 'hold' | 'done'
}

/** `over`: a turn was heard to its end. `next`, `again`: the pedals. `faster`, `slower`: by one mark. */
export type WarmUpAction =
  | 'start'
  | 'over'
  | 'next'
  | 'again'
  | 'wait'
  | 'finish'
  | 'faster'
  | 'slower'
  | 'tone'

export const newWarmUp = (exercises: readonly Exercise[]): WarmUpState => ({
  exercises,
  exercise: 0,
  turn: 0,
  heard: 0,
  shift: exercises[0]?.shift ?? 0,
  toneOn: true,
  phase: 'ready',
})

export const current = (s: WarmUpState): Exercise => s.exercises[s.exercise] as Exercise

/** Where a turn stands: the place in the tempos, and in the lengths. By the clock it stays with the last of both. */
const placeOf = (s: WarmUpState): { readonly tempo: number; readonly length: number } => {
  const { tempos, times, lengths } = current(s)
  const each = Math.max(1, lengths.length)
  const turn = Math.min(s.turn, tempos.length * each * times - 1)
  return { tempo: Math.floor(turn / (each * times)), length: Math.floor(turn / times) % each }
}

export const tempoOf = (s: WarmUpState): Tempo =>
  movedBy(current(s).tempos[placeOf(s).tempo] as Tempo, s.shift)

/** The tempo with which the exercise begins: what is remembered. */
export const firstTempo = (s: WarmUpState): Tempo => movedBy(current(s).tempos[0] as Tempo, s.shift)

/** Beats of the present turn, where it is counted in beats. */
export const lengthOf = (s: WarmUpState): number | null => current(s).lengths[placeOf(s).length] ?? null

export const turnsOf = (e: Exercise): number => e.tempos.length * e.times * Math.max(1, e.lengths.length)

const nextExercise = (s: WarmUpState): WarmUpState => {
  const next = s.exercises[s.exercise + 1]
  return next
    ? { ...s, exercise: s.exercise + 1, turn: 0, heard: 0, shift: next.shift, phase: 'going' }
    : { ...s, phase: 'done' }
}

/** Whether the exercise ends with the turn that was just heard. */
const isOver = (s: WarmUpState): boolean => {
  const { minutes } = current(s)
  return minutes === null ? s.turn >= turnsOf(current(s)) : s.heard >= minutes * 60
}

/**
 * No verdict is asked for: it moves on by count, by the clock or by a press. A change to `going` plays the turn anew.
 * `seconds` = how long the turn was that is over.
 */
export const step = (s: WarmUpState, a: WarmUpAction, seconds = 0): WarmUpState => {
  if (s.phase === 'done') return s
  if (a === 'finish') return { ...s, phase: 'done' }
  if (a === 'over') {
    if (s.phase !== 'going') return s
    const after = { ...s, turn: s.turn + 1, heard: s.heard + seconds }
    return isOver(after) ? nextExercise(after) : after
  }
  if (a === 'faster' || a === 'slower') return { ...s, shift: s.shift + (a === 'faster' ? 1 : -1) }
  if (a === 'tone') return { ...s, toneOn: !s.toneOn }
  if (s.phase !== 'going') return a === 'wait' ? s : { ...s, phase: 'going' }
  if (a === 'wait') return { ...s, phase: 'hold' }
  if (a === 'next') return nextExercise(s)
  if (a === 'again') return { ...s, turn: 0, heard: 0 }
  return s
}

/** Seconds to breathe between two turns, before the count-in. */
const BREATH = 1.5

const formOf = (s: WarmUpState, tempo: Tempo): Form => {
  const e = current(s)
  if (e.form) return e.form
  const beats = lengthOf(s)
  return beats === null
    ? plainForm(e.meter, e.measures, tempo)
    : {
        meters: [{ at: zero, meter: e.meter }],
        marks: [{ at: zero, tempo }],
        pickup: zero,
        length: mul(tempo.unit, frac(beats)),
      }
}

/** The program of the present turn. `rate` in frames a second; `before` = what was just heard to its end, if anything was. */
export const turnProgram = (s: WarmUpState, rate: number, before: Program | null): Program => {
  const e = current(s)
  const tempo = tempoOf(s)
  const inTime = (rest: number): Program =>
    compile(formOf(s, tempo), tempo, { countIn: 1, subdivide: 1, rest, rate })
  // The count-in is rest too.
  const asLong = before && e.asLong ? (before.end - before.firstNote - inTime(0).firstNote) / rate : 0
  const program = inTime(before ? Math.max(BREATH, asLong) : 0)
  if (!e.tone || !s.toneOn) return program
  const from = program.segments.find(x => x.kind !== 'rest')?.frame ?? 0
  const { hz, dbfs } = e.tone
  return { ...program, tone: { hz, dbfs, from, to: program.end } }
}
