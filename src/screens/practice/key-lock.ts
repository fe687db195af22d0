import type { KeyNames } from '../words.ts'

/**
 * Opens the keys again. A sheet of music that lies on the keyboard presses one key again and again, or several at
 * once; it can't type a word, so neither the same key twice nor two together would do.
 */
const OPENS = 'open'

export type KeyLock = {
  readonly locked: () => boolean
  readonly lock: () => void
  /** Whether a key may do what it does, with the pedals as set up. While locked: the pedals and Ctrl+C. */
  readonly passes: (id: string, pedals: KeyNames) => boolean
}

/** Only the pedals: everything else on the keyboard does nothing until the word is typed. */
export const keyLock = (locked: boolean): KeyLock => {
  let shut = locked
  let typed = ''
  return {
    locked: () => shut,
    lock: () => {
      shut = true
      typed = ''
    },
    passes: (id, pedals) => {
      if (!shut || id === 'C-c' || id === pedals.right || id === pedals.left) return true
      const on = typed + id
      typed = OPENS.startsWith(on) ? on : OPENS.startsWith(id) ? id : ''
      if (typed === OPENS) shut = false
      return false
    },
  }
}
