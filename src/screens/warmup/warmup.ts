import { compile } from '../../click/compile.ts'
import type { Program } from '../../click/program.ts'
import { plainForm } from '../../music/form.ts'
import type { Meter } from '../../music/meter.ts'
import type { Tempo } from '../../music/tempo.ts'

/** An exercise, ready to be played. */
export type Exercise = {
  readonly name: string
  readonly words: string
  readonly meter: Meter
  readonly measures: number
  readonly tempos: readonly Tempo[]
  /** Turns at each tempo. */
  readonly times: number
}

/** `turn` counts within the exercise from 0. */
export type WarmUpState = {
  readonly exercises: readonly Exercise[]
  readonly exercise: number
  readonly turn: number
  readonly phase: 'ready' | 'going' | 'hold' | 'done'
}

/** `over`: a turn was heard to its end. `next`, `again`: the pedals. */
export type WarmUpAction = 'start' | 'over' | 'next' | 'again' | 'wait' | 'finish'

export const newWarmUp = (exercises: readonly Exercise[]): WarmUpState => ({
  exercises,
  exercise: 0,
  turn: 0,
  phase: 'ready',
})

export const current = (s: WarmUpState): Exercise => s.exercises[s.exercise] as Exercise

export const tempoOf = (s: WarmUpState): Tempo => {
  const { tempos, times } = current(s)
  return tempos[Math.min(tempos.length - 1, Math.floor(s.turn / times))] as Tempo
}

export const turnsOf = (e: Exercise): number => e.tempos.length * e.times

const nextExercise = (s: WarmUpState): WarmUpState =>
  s.exercise + 1 < s.exercises.length
    ? { ...s, exercise: s.exercise + 1, turn: 0, phase: 'going' }
    : { ...s, phase: 'done' }

/** No verdict is asked for: it moves on by count or by a press. A change to `going` plays the turn anew. */
export const step = (s: WarmUpState, a: WarmUpAction): WarmUpState => {
  if (s.phase === 'done') return s
  if (a === 'finish') return { ...s, phase: 'done' }
  if (a === 'over') {
    if (s.phase !== 'going') return s
    return s.turn + 1 < turnsOf(current(s)) ? { ...s, turn: s.turn + 1 } : nextExercise(s)
  }
  if (s.phase !== 'going') return { ...s, phase: 'going' }
  if (a === 'wait') return { ...s, phase: 'hold' }
  if (a === 'next') return nextExercise(s)
  if (a === 'again') return { ...s, turn: 0 }
  return s
}

/** Seconds to breathe between two turns, before the count-in. */
const BREATH = 1.5

/** The program of the present turn. `rate` in frames a second; `first` = nothing sounded before it. */
export const turnProgram = (s: WarmUpState, rate: number, first: boolean): Program => {
  const e = current(s)
  const tempo = tempoOf(s)
  return compile(plainForm(e.meter, e.measures, tempo), tempo, {
    countIn: 1,
    subdivide: 1,
    rest: first ? 0 : BREATH,
    rate,
  })
}
