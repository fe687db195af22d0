import { keyLabel, type Lesson, type PedalLesson, pedalLesson } from '../../terminal/learn.ts'
import type { Key } from '../../terminal/tokenizer.ts'
import { TAKEN_KEYS } from '../practice/keys.ts'

/** The pedals as they are to be kept. */
export type Pedals = { readonly right: string; readonly left: string; readonly pedals: 1 | 2 }

/** What was learned; `plays` = what is played, where that was asked and answered. */
export type Learned = Pedals & { readonly plays?: string }

export type SetupState = {
  readonly asking: 'right' | 'left' | 'plays' | null
  /** What was said, latest last. */
  readonly said: readonly string[]
  readonly right: string | null
  readonly result: Learned | null
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

/**
 * Asks for the two pedals by having them pressed, and then which of some kinds of instruments is played (none = it is
 * not asked). Nothing is stored here. `before` = the pedals until now.
 */
export const learnPedals = (since: number, before: Pedals, kinds: readonly string[] = []): Setup => {
  let lesson: PedalLesson = pedalLesson({ pedal: 'right', since, taken: TAKEN_KEYS })
  let pedals: Pedals = before
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
  const done = (found: Pedals): void => {
    pedals = found
    state = { ...state, asking: kinds.length > 0 ? 'plays' : null, result: kinds.length > 0 ? null : found }
    say(
      found.pedals === 1
        ? `One pedal: ${keyLabel(found.right)}.`
        : `Right (clean): ${keyLabel(found.right)}. Left (not clean): ${keyLabel(found.left)}.`,
    )
    const digits = kinds.map((kind, i) => `${i + 1} ${kind}`).join('  ')
    if (kinds.length > 0)
      say(`What do you play? It sets rests, click and words. ${digits}  n: leave it open.`)
  }
  const played = (id: string): void => {
    const kind = kinds[Number(id) - 1]
    if (kind === undefined && id !== 'n') return
    state = { ...state, asking: null, result: { ...pedals, ...(kind === undefined ? {} : { plays: kind }) } }
    say(kind === undefined ? 'Left open.' : `You play: ${kind}.`)
  }
  return {
    state: () => state,
    key: key => {
      if (state.asking === null) return
      if (state.asking === 'plays') return played(key.id)
      if (state.asking === 'left' && key.id === '1')
        return done({ right: state.right ?? before.right, left: before.left, pedals: 1 })
      const answer = lesson.key(key)
      say(answer.say)
      learned(answer, key.at)
    },
    waited: t => {
      const text = state.asking === null || state.asking === 'plays' ? null : lesson.waited(t)
      if (text !== null) say(text)
    },
  }
}
