import { keyLabel, type Lesson, type PedalLesson, pedalLesson } from '../../terminal/learn.ts'
import type { Key } from '../../terminal/tokenizer.ts'
import { TAKEN_KEYS } from '../practice/keys.ts'

/** The pedals as they are to be kept. */
export type Pedals = { readonly right: string; readonly left: string; readonly pedals: 1 | 2 }

export type SetupState = {
  readonly asking: 'right' | 'left' | null
  /** What was said, latest last. */
  readonly said: readonly string[]
  readonly right: string | null
  readonly result: Pedals | null
}

const QUESTION = {
  right: 'The right pedal (clean): press it three times. With one pedal only, this is the one.',
  left: 'The left pedal (not clean): press it three times. If there is only one pedal, press 1.',
} as const

export type Setup = {
  readonly state: () => SetupState
  readonly key: (key: Key) => void
  /** Called now and then, so that silence can be answered. `t` in monotonic ms. */
  readonly waited: (t: number) => void
}

const LINES = 12

/** Asks for the two pedals by having them pressed; nothing is stored here. `before` = the pedals until now. */
export const learnPedals = (since: number, before: Pedals): Setup => {
  let lesson: PedalLesson = pedalLesson({ pedal: 'right', since, taken: TAKEN_KEYS })
  let state: SetupState = { asking: 'right', said: [QUESTION.right], right: null, result: null }
  const say = (text: string): void => {
    if (state.said.at(-1) !== text) state = { ...state, said: [...state.said, text].slice(-LINES) }
  }
  const learned = (l: Lesson, at: number): void => {
    if (l.learned === undefined) return
    if (state.asking === 'right') {
      state = { ...state, asking: 'left', right: l.learned }
      lesson = pedalLesson({
        pedal: 'left',
        since: at,
        taken: TAKEN_KEYS,
        otherPedal: { pedal: 'right', id: l.learned },
      })
      say(QUESTION.left)
    } else done({ right: state.right ?? before.right, left: l.learned, pedals: 2 })
  }
  const done = (result: Pedals): void => {
    state = { ...state, asking: null, result }
    say(
      result.pedals === 1
        ? `One pedal: ${keyLabel(result.right)}.`
        : `Right (clean): ${keyLabel(result.right)}. Left (not clean): ${keyLabel(result.left)}.`,
    )
  }
  return {
    state: () => state,
    key: key => {
      if (state.asking === null) return
      if (state.asking === 'left' && key.id === '1')
        return done({ right: state.right ?? before.right, left: before.left, pedals: 1 })
      const answer = lesson.key(key)
      say(answer.say)
      learned(answer, key.at)
    },
    waited: t => {
      const text = state.asking === null ? null : lesson.waited(t)
      if (text !== null) say(text)
    },
  }
}
