import { chordGate } from '../../terminal/chord.ts'
import { type KeyChoice, USUAL_KEYS } from '../../terminal/key-table.ts'
import { type LearnedPedal, type Lesson, type PedalLesson, pedalLesson } from '../../terminal/learn.ts'
import { type PedalLock, pedalLock, USUAL_LOCK } from '../../terminal/lock.ts'
import type { Key } from '../../terminal/tokenizer.ts'
import { takenFor } from '../key-tables.ts'
import * as words from './words.ts'

/** The pedals as they are to be kept; `lock` = how long one press is one press, ms. */
export type Pedals = {
  readonly right: string
  readonly left: string
  readonly pedals: 1 | 2
  readonly lock?: number
}

/** What was learned; `plays` = what is played, where that was asked and answered. */
export type Learned = Pedals & { readonly plays?: string }

export type SetupState = {
  /** `try` = all is learned, and each press is shown. */
  readonly asking: 'right' | 'left' | 'plays' | 'try'
  /** What was said, latest last. */
  readonly said: readonly string[]
  readonly result: Learned | null
  /** The player leaves; `result` null = everything stays as it was. */
  readonly over: boolean
}

export type Setup = {
  readonly state: () => SetupState
  readonly key: (key: Key) => void
  /** Called now and then, so that silence can be answered. `t` in monotonic ms. */
  readonly waited: (t: number) => void
}

const LINES = 12

/**
 * Asks for the two pedals by having them pressed and held, then which of some kinds of instruments is played (none = it is
 * not asked), and then shows what each press would do. Nothing is stored here. `before` = the pedals until now.
 */
export const learnPedals = (
  since: number,
  before: Pedals,
  kinds: readonly string[] = [],
  choice: KeyChoice = USUAL_KEYS,
): Setup => {
  let lesson: PedalLesson = pedalLesson({ pedal: 'right', since, taken: takenFor('right', choice) })
  let together = chordGate([])
  let right: LearnedPedal | null = null
  let pedals: Pedals = before
  let lock: PedalLock = pedalLock()
  let state: SetupState = { asking: 'right', said: [words.ASK.right], result: null, over: false }

  const say = (text: string): void => {
    if (state.said.at(-1) !== text) state = { ...state, said: [...state.said, text].slice(-LINES) }
  }
  const answered = (lesson: Lesson | null, at: number): void => {
    if (lesson === null) return
    say(lesson.say)
    if (lesson.learned !== undefined) learned(lesson.learned, at)
  }
  const learned = (l: LearnedPedal, at: number): void => {
    if (right !== null) {
      found({ right: right.id, left: l.id, pedals: 2, lock: Math.max(right.lockMs, l.lockMs) })
      return
    }
    right = l
    state = { ...state, asking: 'left' }
    together = chordGate([l.id])
    lesson = pedalLesson({
      pedal: 'left',
      since: at,
      taken: takenFor('left', choice),
      otherPedal: { pedal: 'right', id: l.id },
    })
    say(words.ASK.left)
  }
  const found = (p: Pedals): void => {
    pedals = p
    lock = pedalLock({ lockMs: p.lock ?? USUAL_LOCK })
    say(words.pedalsSet(p))
    if (kinds.length > 0) {
      state = { ...state, asking: 'plays' }
      say(words.askKind(kinds))
    } else tryOut(p)
  }
  const tryOut = (result: Learned): void => {
    state = { ...state, asking: 'try', result }
    // While it waits for a press a single key is a single key, unless the pedal is several at once.
    together = chordGate(result.pedals === 1 ? [result.right] : [result.right, result.left])
    say(words.TRY)
  }
  const played = (id: string): void => {
    const kind = kinds[Number(id) - 1]
    if (kind === undefined && id !== '0') return
    say(words.playsKind(kind))
    tryOut({ ...pedals, ...(kind === undefined ? {} : { plays: kind }) })
  }
  const tried = (key: Key): void => {
    const pedal =
      key.id === pedals.right ? 'right' : pedals.pedals === 2 && key.id === pedals.left ? 'left' : null
    if (pedal === null) say(words.noPedal(key.id))
    else say(words.PRESS[lock.press(pedal, key.at)] ?? words.wouldDo(pedal, pedals.pedals))
  }
  const hear = (key: Key): void => {
    if (key.id === 'f') state = { ...state, over: true }
    else if (state.asking === 'try') tried(key)
    else if (state.asking === 'plays') played(key.id)
    else if (state.asking === 'left' && key.id === '1' && right !== null)
      found({ right: right.id, left: before.left, pedals: 1, lock: right.lockMs })
    else answered(lesson.key(key), key.at)
  }
  return {
    state: () => state,
    key: key => {
      for (const one of together.feed(key)) hear(one)
    },
    waited: t => {
      for (const one of together.flush(t)) hear(one)
      if (state.asking === 'right' || state.asking === 'left') answered(lesson.waited(t), t)
    },
  }
}
