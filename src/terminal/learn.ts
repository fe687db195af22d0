import { type Pedal, pedalLock } from './lock.ts'
import type { Key } from './tokenizer.ts'

/** How many separate presses teach a pedal. */
const PRESSES = 3
/** Two different keys this close together (ms) come from one press. */
const TOGETHER = 60
/** Silence after which the player is told why nothing may arrive, in ms. */
const SILENCE = 10_000

/** What the learn step says to a key: one sentence, and the key's id once it is learned. */
export type Lesson = { say: string; learned?: string }

export type PedalLesson = {
  key(key: Key): Lesson
  /** What to say at time `t` (ms) if no key has arrived for ten seconds, else null. */
  waited(t: number): string | null
}

const LABELS: Readonly<Record<string, string>> = {
  PageDown: 'Page Down',
  PageUp: 'Page Up',
  Left: 'left arrow',
  Right: 'right arrow',
  Up: 'up arrow',
  Down: 'down arrow',
  Space: 'the space bar',
  Begin: 'keypad 5',
}

/** A key as a player reads it: 'Page Down', 'Ctrl+c', 'media play'. */
export const keyLabel = (id: string): string => {
  const [, modifiers = '', name = ''] = /^((?:[CMS]-)*)(.+)$/su.exec(id) ?? []
  const held = modifiers.replace('C-', 'Ctrl+').replace('M-', 'Alt+').replace('S-', 'Shift+')
  return held + (LABELS[name] ?? (name.length > 1 ? name.replaceAll('-', ' ') : name))
}

/** The key at the beginning of a sentence: 'Page Down', 'The key t'. */
const subject = (id: string): string => {
  const label = keyLabel(id)
  return [...id].length === 1 ? `The key ${label}` : label.slice(0, 1).toUpperCase() + label.slice(1)
}

/**
 * "Press the pedal three times": one pedal's lesson, begun at `since` (ms). A held or bouncing key counts once.
 * `taken` holds keys that already mean something and what that is, as in `{ t: 'take back' }`; `otherPedal` is
 * the key of the pedal learned before.
 */
export const pedalLesson = (o: {
  pedal: Pedal
  since: number
  taken: Readonly<Record<string, string>>
  otherPedal?: { pedal: Pedal; id: string }
}): PedalLesson => {
  let lock = pedalLock()
  let heard = o.since
  let id: string | null = null
  let presses = 0

  const again = (say: string): Lesson => {
    id = null
    presses = 0
    return { say }
  }
  const refusal = (key: string): string | null => {
    const label = subject(key)
    const meaning = o.taken[key]
    if (key === 'Escape') return 'Escape cannot be a pedal: terminals send it at the beginning of other keys.'
    if (/^(?:C-|M-)/.test(key))
      return `${label} cannot be a pedal: keys with Ctrl or Alt are kept for the terminal and the program.`
    if (key === o.otherPedal?.id)
      return `${label} is already the ${o.otherPedal.pedal} pedal: the two pedals need different keys.`
    if (meaning !== undefined) return `${label} already means ${meaning}: choose another mode of the pedal.`
    return null
  }

  return {
    key(key) {
      const gap = key.at - heard
      heard = key.at
      const refused = refusal(key.id)
      if (refused !== null) return again(refused)
      if (id !== null && key.id !== id) {
        const pair = `${subject(id)}, then ${keyLabel(key.id)}`
        if (gap < TOGETHER)
          return again(`One press sent two keys (${pair}): choose a mode in which the pedal sends one.`)
        return again(`Two different keys arrived (${pair}): press the same pedal ${PRESSES} times.`)
      }
      if (id === null) lock = pedalLock()
      id = key.id
      if (lock.press(o.pedal, key.at) !== 'accepted')
        return {
          say: `${subject(id)} is still held or was too quick: lift the foot, then press again.`,
        }
      presses += 1
      if (presses < PRESSES) return { say: `${subject(id)}, ${presses} of ${PRESSES}.` }
      return { say: `${subject(id)} is the ${o.pedal} pedal.${caution(id)}`, learned: id }
    },
    waited(t) {
      if (t - heard < SILENCE) return null
      return (
        'No key has arrived: media keys, mouse modes and Shift with Page Up or Page Down do not reach most ' +
        'terminals, so choose another mode of the pedal; Page Down and Page Up, or the arrows, are the safest.'
      )
    },
  }
}

/** Keys that write when another window is in front. */
const caution = (id: string): string =>
  id === 'Enter' || id === 'Space' || [...id].length === 1
    ? ` Mind that ${keyLabel(id)} also types into any other window that is in front.`
    : ''
