import { lockFor, type Pedal, pedalLock, type Repeat, SHORTEST_LOCK } from './lock.ts'
import { isMidi } from './midi.ts'
import type { Key } from './tokenizer.ts'
import * as words from './words.ts'

/** How many separate presses teach a pedal. */
const PRESSES = 3
/** Silence after which the player is told why nothing may arrive, ms. */
const SILENCE = 10_000
/** A press without a repeat is over after this long, ms: the slowest repeat that systems offer begins before. */
const NO_REPEAT = 2500
/** A held key that was silent for this long has been let go, ms. */
const LIFTED = 400

/** A pedal as learned: the key it sends, what holding it does, and how long one press of it is one press (ms). */
export type LearnedPedal = { readonly id: string; readonly repeat: Repeat; readonly lockMs: number }

/** What the learn step says: one sentence, and the pedal once it is learned. */
export type Lesson = { say: string; learned?: LearnedPedal }

export type PedalLesson = {
  /** Null = nothing new to say. */
  key(key: Key): Lesson | null
  /** Called now and then: what to say at time `t` (ms) because nothing comes, or because the foot was lifted. */
  waited(t: number): Lesson | null
}

/**
 * One pedal's lesson, begun at `since` (ms): three separate presses, then two seconds held down, which tells how the
 * system repeats it (a MIDI pedal does not repeat). A held or bouncing key counts once. `taken` holds keys that already
 * mean something and what that is, as in `{ t: 'take back' }`; `otherPedal` is the key of the pedal learned before.
 */
export const pedalLesson = (o: {
  pedal: Pedal
  since: number
  taken: Readonly<Record<string, string>>
  otherPedal?: { pedal: Pedal; id: string }
}): PedalLesson => {
  let lock = pedalLock()
  let heard = o.since
  let helped = o.since
  let id: string | null = null
  let presses = 0
  /** Times of the key while it is held down; null = the presses are being counted. */
  let held: readonly number[] | null = null

  const again = (say: string): Lesson => {
    id = null
    presses = 0
    held = null
    return { say }
  }
  const refusal = (key: string): string | null => {
    const meaning = o.taken[key]
    if (key === 'Escape') return words.NO_ESCAPE
    if (/^(?:C-|M-)/.test(key)) return words.noModifiers(key)
    if (o.otherPedal && alike(key, o.otherPedal.id)) return words.sameKey(key, o.otherPedal.pedal)
    return meaning === undefined ? null : words.alreadyMeans(key, meaning)
  }
  const done = (pedal: string, repeat: Repeat, lockMs: number): Lesson => ({
    say: words.learned(pedal, o.pedal, repeat) + words.caution(pedal),
    learned: { id: pedal, repeat, lockMs },
  })
  /** The foot is up again, or the two seconds are over: what the held key has told. */
  const lifted = (pedal: string, times: readonly number[]): Lesson => {
    const [first = 0, second] = times
    if (second === undefined) return done(pedal, null, lockFor(null))
    if (times.length === 2) {
      held = []
      return { say: words.HOLD_LONGER }
    }
    const repeat = { delay: second - first, interval: ((times.at(-1) ?? 0) - second) / (times.length - 2) }
    return done(pedal, repeat, lockFor(repeat))
  }

  return {
    key(key) {
      const silent = key.at - heard
      // A MIDI pedal tells when it is lifted, too. What it told first was the press.
      if (id !== null && key.id !== id && alike(key.id, id)) return null
      heard = helped = key.at
      const refused = refusal(key.id)
      if (refused !== null) return again(refused)
      if (id !== null && key.id !== id) return again(words.twoKeys(id, key.id, PRESSES))
      if (held !== null) {
        // The third press may still be down.
        if (held.length === 0 && silent < LIFTED) return null
        held = [...held, key.at]
        return held.length === 1 ? { say: words.HOLDING } : null
      }
      if (id === null) lock = pedalLock()
      id = key.id
      if (lock.press(o.pedal, key.at) !== 'accepted') return { say: words.stillHeld(id) }
      presses += 1
      if (presses < PRESSES) return { say: words.ofPresses(id, presses, PRESSES) }
      if (isMidi(id)) return done(id, null, SHORTEST_LOCK)
      held = []
      return { say: words.nowHold(id) }
    },
    waited(t) {
      if (id !== null && held !== null && held.length > 0) {
        const [first = 0] = held
        const over = held.length === 1 ? t - first >= NO_REPEAT : t - heard >= LIFTED
        return over ? lifted(id, held) : null
      }
      if (t - helped < SILENCE) return null
      helped = t
      return { say: words.NOTHING_ARRIVES }
    },
  }
}

/** Both edges of a MIDI pedal are one pedal. */
const alike = (a: string, b: string): boolean => a.replace(/-low$/, '') === b.replace(/-low$/, '')

/** What kind of terminal this is, for telling whether a pedal was learned in another one: "xterm-256color", "tmux". */
export const terminalKind = (env: NodeJS.ProcessEnv): string =>
  [env.TERM_PROGRAM ?? env.TERM ?? 'unknown', env.TMUX ? 'tmux' : '', env.SSH_TTY ? 'ssh' : '']
    .filter((part, i, all) => part !== '' && all.indexOf(part) === i)
    .join(' in ')
    .slice(0, 80)
