import type { Key } from './tokenizer.ts'

/** The key that stands for several at once: an elbow on the keyboard, or a pedal that sends two. */
export const CHORD = 'chord'

/** Keys of one press come within this time, ms: an elbow presses its keys one shortly after the other. */
const TOGETHER = 60
/** A key of the last chord that comes alone within this time after it is that chord held down, ms. */
const HELD = 2000

export type ChordGate = {
  /** What is certain now; a key by itself is certain only after 60 ms. */
  feed(key: Key): Key[]
  /** When `flush` is wanted (ms), or null while nothing waits. */
  due(): number | null
  flush(t: number): Key[]
}

/**
 * Keys pressed together become one key, 'chord', stamped with the first; held down it repeats as any key does. `own` = the
 * keys of the other pedal, and of nothing else: they pass at once. So does Ctrl+C.
 */
export const chordGate = (own: readonly string[]): ChordGate => {
  let waiting: Key | null = null
  let chord: { readonly keys: Set<string>; readonly first: number; last: number } | null = null

  const flush = (t: number): Key[] => {
    if (waiting === null || t < waiting.at + TOGETHER) return []
    const alone = waiting
    waiting = null
    return [alone]
  }
  return {
    feed(key) {
      const before = flush(key.at)
      if (own.includes(key.id) || key.id === 'C-c') {
        const late = waiting === null ? [] : [waiting]
        waiting = null
        return [...before, ...late, key]
      }
      if (chord !== null && key.at - chord.first <= 2 * TOGETHER) {
        chord.keys.add(key.id)
        chord.last = key.at
        return before
      }
      if (chord?.keys.has(key.id) && key.at - chord.last < HELD) {
        chord.last = key.at
        return [...before, { id: CHORD, at: key.at }]
      }
      if (waiting === null || waiting.id === key.id) {
        const late = waiting === null ? [] : [waiting]
        waiting = key
        return [...before, ...late]
      }
      chord = { keys: new Set([waiting.id, key.id]), first: waiting.at, last: key.at }
      waiting = null
      return [...before, { id: CHORD, at: chord.first }]
    },
    due: () => (waiting === null ? null : waiting.at + TOGETHER),
    flush,
  }
}
