import { type Feet, footwork } from './feet.ts'
import { isFocus } from './key-names.ts'
import { LEAVES_WITHIN, type ProcessGuard } from './process-guard.ts'
import { droppedIn, type Key, PASTE, tokenizer } from './tokenizer.ts'

/** The keyboard and the pedals of a terminal, whichever face it has: bytes in, keys out. */
export type Keyboard = {
  /**
   * Every key but Ctrl+Z, in order. Who begins to listen after Ctrl+C hears it too: it may have come between two screens.
   * Returns what takes the listener away.
   */
  readonly onKey: (f: (key: Key) => void) => () => void
  readonly read: (bytes: Uint8Array) => void
  /** Ctrl+C where no key can come any more: the end of a pipe. */
  readonly end: () => void
  readonly close: () => void
}

/** Who is told of something, in the order in which they came. */
export const listeners = <T>(): { add(f: (value: T) => void): () => void; tell(value: T): void } => {
  const all = new Set<(value: T) => void>()
  return {
    add(f) {
      all.add(f)
      return () => void all.delete(f)
    },
    tell(value) {
      for (const f of [...all]) f(value)
    },
  }
}

/** `now` in monotonic ms. */
export const keyboard = (o: {
  readonly now: () => number
  readonly feet: Feet | undefined
  /** More keys in one read than this mean nothing but the Ctrl+C among them; null = they come from a pipe, and all count. */
  readonly flood: number | null
  readonly guard: () => Pick<ProcessGuard, 'die' | 'stop'>
  /** Each key of the keyboard, and what the window says of itself, before it is told. */
  readonly arrived?: (key: Key) => void
  /** Each key that is told, those of pedals too. */
  readonly told?: (key: Key) => void
}): Keyboard => {
  const { now, flood, guard } = o
  const tokens = tokenizer()
  const keys = listeners<Key>()
  let closed = false
  let over = false
  let wait: NodeJS.Timeout | undefined
  let leaving: NodeJS.Timeout | undefined

  const pedals = footwork({
    feet: o.feet,
    now,
    tell: key => {
      o.told?.(key)
      if (!closed) keys.tell(key)
    },
  })
  const deliver = (found: readonly Key[]): void => {
    if (closed) return
    clearTimeout(wait)
    const due = tokens.due()
    // One turn for bytes that have already arrived but were not read yet: then it was no lone Escape.
    const flush = (): void => void setImmediate(() => deliver(tokens.flush(now())))
    if (due !== null) wait = setTimeout(flush, Math.max(0, due - now()))
    const heard =
      flood !== null && found.length > flood ? found.filter(key => key.id === 'C-c').slice(0, 1) : found
    for (const key of heard) {
      if (closed) return
      o.arrived?.(key)
      if (key.id === 'C-c') {
        over = true
        leaving ??= setTimeout(() => guard().die('SIGINT'), LEAVES_WITHIN)
      }
      if (key.id === 'C-z') guard().stop()
      else if (!isFocus(key.id)) pedals.key(key)
    }
  }
  const quit = (): Key => ({ id: 'C-c', at: now() })

  return {
    onKey: f => {
      const off = keys.add(f)
      let listens = true
      if (over)
        queueMicrotask(() => {
          if (listens && !closed) f(quit())
        })
      return () => {
        listens = false
        off()
      }
    },
    read: bytes => {
      const text = flood === null || tokens.due() !== null ? null : droppedIn(bytes)
      deliver(text === null ? tokens.feed(bytes, now()) : [{ id: PASTE, at: now(), text }])
    },
    end: () => {
      over = true
      keys.tell(quit())
    },
    close: () => {
      closed = true
      clearTimeout(wait)
      clearTimeout(leaving)
      pedals.close()
    },
  }
}
