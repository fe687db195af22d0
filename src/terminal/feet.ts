import { fork } from 'node:child_process'
import { tmpdir } from 'node:os'
import { CHORD, chordGate } from './chord.ts'
import { isMidi } from './midi.ts'
import type { Key } from './tokenizer.ts'

/** The keys that the pedals send, and the kind of terminal they were learned in; 'any' while they are being learned. */
export type Feet = { readonly keys: readonly string[]; readonly learnedIn?: string | undefined } | 'any'

export type Footwork = {
  /** A key of the keyboard; it is told at once unless it may be a part of a chord. */
  readonly key: (key: Key) => void
  readonly close: () => void
}

/**
 * What pedals need beside the keyboard: MIDI, listened to only where a pedal is one, and chords, waited for only where a
 * pedal is one. `now` in monotonic ms.
 */
export const footwork = (o: {
  readonly feet: Feet | undefined
  readonly now: () => number
  readonly tell: (key: Key) => void
  readonly listen?: typeof listenToMidi
}): Footwork => {
  const { now, tell, listen = listenToMidi } = o
  const feet = o.feet === 'any' ? 'any' : (o.feet?.keys ?? [])
  const midi = feet === 'any' || feet.some(isMidi)
  const close = midi
    ? listen(id => {
        if (feet === 'any' || feet.includes(id)) tell({ id, at: now() })
      })
    : () => {}
  if (feet === 'any' || !feet.includes(CHORD)) return { key: tell, close }

  const gate = chordGate(feet.filter(id => id !== CHORD))
  let wait: NodeJS.Timeout | undefined
  const deliver = (keys: readonly Key[]): void => {
    clearTimeout(wait)
    const due = gate.due()
    if (due !== null) wait = setTimeout(() => deliver(gate.flush(now())), Math.max(0, due - now()))
    for (const key of keys) tell(key)
  }
  return {
    key: key => deliver(gate.feed(key)),
    close: () => {
      clearTimeout(wait)
      close()
    },
  }
}

/**
 * Listens to MIDI pedals in a process of its own; `tell` gets the ids of keys. Where there is no MIDI nothing comes and
 * nothing is said. Returns what ends it.
 */
export const listenToMidi = (
  tell: (id: string) => void,
  program = new URL('./midi-process.js', import.meta.url),
) => {
  const child = fork(program, [], {
    cwd: tmpdir(),
    execArgv: [],
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
  })
  child.on('message', id => {
    if (typeof id === 'string' && isMidi(id)) tell(id)
  })
  child.on('error', () => {})
  // It never keeps the program alive.
  child.unref()
  child.channel?.unref()
  return (): void => {
    child.removeAllListeners('message')
    if (child.connected) child.disconnect()
  }
}
