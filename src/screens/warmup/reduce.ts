import type { Pedal } from '../../terminal/lock.ts'
import type { Exercise } from '../../warm-up/exercises.ts'
import { newWarmUp, step, type WarmUpAction, type WarmUpState } from '../../warm-up/turns.ts'
import { type FootAt, footStep } from '../choosing.ts'

export type State = {
  readonly warmUp: WarmUpState
  /** A sentence, or empty. */
  readonly trouble: string
  /** What is typed of a name for a preset; null = nothing is asked. */
  readonly naming: string | null
  readonly quit: boolean
  /** Where one pedal stands among the choices while it waits, and since when. Monotonic ms. */
  readonly choice: FootAt
}

export type Action =
  /** `seconds` = how long what is over has lasted. */
  | { readonly kind: 'step'; readonly step: WarmUpAction; readonly seconds?: number }
  | { readonly kind: 'foot'; readonly pedal: Pedal; readonly pedals: 1 | 2; readonly at: number }
  | { readonly kind: 'ask' }
  | { readonly kind: 'write'; readonly id: string }
  | { readonly kind: 'say'; readonly text: string }
  | { readonly kind: 'leave'; readonly quit: boolean }

export type Effect =
  | { readonly kind: 'stop' | 'end' }
  /** `onward`: after what was heard to its end. */
  | { readonly kind: 'play'; readonly onward: boolean }
  | { readonly kind: 'heard'; readonly of: WarmUpState }
  | { readonly kind: 'save'; readonly name: string }

type Step = { readonly state: State; readonly effects: readonly Effect[] }

export const newState = (exercises: readonly Exercise[]): State => ({
  warmUp: newWarmUp(exercises),
  trouble: '',
  naming: null,
  quit: false,
  choice: { at: 0, since: 0 },
})

const only = (state: State, ...effects: Effect[]): Step => ({ state, effects })

const LONGEST_NAME = 40

const stepped = (s: State, a: WarmUpAction, seconds = 0): Step => {
  const was = s.warmUp
  const warmUp = step(was, a, seconds)
  const state: State = { ...s, warmUp }
  const heard: Effect[] = a === 'over' ? [{ kind: 'heard', of: was }] : []
  if (warmUp.phase === 'done') return only(state, ...heard, { kind: 'end' })
  if (warmUp.phase === 'hold' && was.phase === 'going') return only(state, ...heard, { kind: 'stop' })
  return warmUp.phase === 'going' && (warmUp !== was || a === 'again')
    ? only(state, ...heard, { kind: 'play', onward: a === 'over' })
    : only(state, ...heard)
}

/** What one pedal chooses while it waits, the usual thing first. */
export const CHOICES = ['go on', 'next exercise', 'this one again', 'finish'] as const

const twice = (s: State, a: WarmUpAction): Step => stepped({ ...s, warmUp: step(s.warmUp, 'start') }, a)

const foot = (s: State, { pedal, pedals, at }: Action & { kind: 'foot' }): Step => {
  if (pedals === 2)
    return stepped(s, s.warmUp.phase !== 'going' ? 'start' : pedal === 'right' ? 'next' : 'again')
  if (s.warmUp.phase === 'going') return stepped({ ...s, choice: { at: 0, since: at } }, 'wait')
  if (s.warmUp.phase === 'ready') return stepped(s, 'start')
  const { choice, takes } = footStep(s.choice, CHOICES.length, at)
  const now = { ...s, choice }
  if (takes === null) return only(now)
  const chosen = CHOICES[takes]
  if (chosen === 'next exercise') return twice(now, 'next')
  if (chosen === 'this one again') return twice(now, 'again')
  return stepped(now, chosen === 'finish' ? 'finish' : 'start')
}

/** Every character is part of the name, until Enter or Escape. */
const write = (s: State, id: string): Step => {
  const name = s.naming ?? ''
  if (id === 'Escape') return only({ ...s, naming: null })
  if (id === 'Backspace') return only({ ...s, naming: name.slice(0, -1) })
  if (id === 'Enter') return name === '' ? only(s) : only({ ...s, naming: null }, { kind: 'save', name })
  return [...id].length === 1
    ? only({ ...s, naming: (name + id.toLowerCase()).slice(0, LONGEST_NAME) })
    : only(s)
}

export const reduce = (s: State, a: Action): Step => {
  switch (a.kind) {
    case 'step':
      return stepped(s, a.step, a.seconds)
    case 'foot':
      return foot(s, a)
    case 'ask': {
      const held = stepped(s, 'wait')
      return { ...held, state: { ...held.state, naming: '', trouble: '' } }
    }
    case 'write':
      return write(s, a.id)
    case 'say':
      return only({ ...s, trouble: a.text })
    case 'leave':
      return stepped({ ...s, quit: a.quit }, 'finish')
  }
}
