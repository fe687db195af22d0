import type { Controls } from '../../terminal/key-table.ts'
import { keyLabel } from '../../terminal/words.ts'
import { choosing } from '../../visit/pedal-table.ts'
import { current, lengthOf, turnsOf, type WarmUpState } from '../../warm-up/turns.ts'
import { keyNames, onePedalChooses, pedalsDo } from '../words.ts'
import { CHOICES, type State } from './reduce.ts'

export const SLEPT = 'The computer slept; a pedal goes on.'
export const NAME_IT = 'Name of the preset, then Enter; Escape leaves it.'

export const warmedUpWith = (exercises: readonly string[]): string =>
  `Warmed up with: ${exercises.join(', ')}.`

/** What the pedals do, where a press has one meaning only: with one pedal not while it waits. */
const phaseWords = (phase: 'ready' | 'going' | 'hold', c: Controls): string => {
  if (phase !== 'going') return pedalsDo(c.pedals, keyNames(c), 'start')
  if (c.pedals === 1) return pedalsDo(1, keyNames(c), 'wait')
  return pedalsDo(2, keyNames(c), 'next exercise', 'this one again')
}

/** What the pedals do now. Monotonic ms. */
export const pedalWords = ({ warmUp, choice }: State, c: Controls, at: number): string => {
  const { phase } = warmUp
  if (phase === 'done') return ''
  if (c.pedals === 2 || phase !== 'hold') return phaseWords(phase, c)
  const { moment } = choosing(at - choice.since)
  const now = CHOICES[moment === 'asleep' ? 0 : choice.at] ?? CHOICES[0]
  const one = keyLabel(c.right)
  return moment === 'passing'
    ? `${now}?   pedal (${one}): something else; wait: this one`
    : `pedal (${one}): ${now}`
}

/** The same and when, for the help. */
export const pedalLines = (c: Controls): readonly (readonly [when: string, does: string])[] => [
  ['before it begins', phaseWords('ready', c)],
  ['while it sounds', phaseWords('going', c)],
  ['while it waits', c.pedals === 2 ? phaseWords('hold', c) : onePedalChooses('choice', CHOICES)],
]

/** "turn 2 of 6, 8 beats" or "minute 2 of 5". */
export const turnWords = (s: WarmUpState): string => {
  const e = current(s)
  const turns = turnsOf(e)
  const at =
    e.minutes === null
      ? `turn ${Math.min(s.turn + 1, turns)} of ${turns}`
      : `minute ${Math.min(Math.floor(s.heard / 60) + 1, Math.ceil(e.minutes))} of ${e.minutes}`
  const beats = lengthOf(s)
  return beats === null ? at : `${at}, ${beats} ${beats === 1 ? 'beat' : 'beats'}`
}

/** Of the minutes that the plan of the day has for it; when they are over it goes on until the player leaves. */
export const plannedWords = (left: number): string =>
  left > 0 ? `${left} min left` : 'its minutes are over   f: what comes next'

/** In one word, read from two meters. */
export const SIGNS = { ready: 'READY', waits: 'WAIT', rest: 'REST' } as const

export const NAMING = (typed: string): string =>
  `name of the preset: ${typed}_   Enter saves it, Escape leaves it`
