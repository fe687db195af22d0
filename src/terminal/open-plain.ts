import { type Feet, footwork } from './feet.ts'
import { isFocus } from './key-names.ts'
import { guardProcess, LEAVES_WITHIN } from './process-guard.ts'
import { type Key, tokenizer } from './tokenizer.ts'

/** Lines instead of a screen: for screen readers, simple terminals and pipes. */
export type PlainTerminal = {
  readonly onKey: (f: (key: Key) => void) => () => void
  readonly line: (text: string) => void
  /** What is being typed, below all lines: written as it grows, as a shell does. Null = nothing is. */
  readonly typing: (text: string | null) => void
  /** As a screen has them, so that a view that only prints lines can stand in for one that draws. */
  readonly size: () => { readonly rows: number; readonly cols: number }
  readonly onResize: (f: () => void) => () => void
  readonly ink: null
  /** Gives the keyboard back; a second call does nothing. */
  readonly close: () => void
}

/** Without a key for so long, what was changed in the middle of a line is shown again. Milliseconds. */
const PAUSE = 150

/** Keys from a terminal (raw) or a pipe; its end counts as Ctrl+C. `now` in monotonic ms. */
export const openPlain = (o: {
  readonly now: () => number
  readonly stdin: NodeJS.ReadStream
  readonly stdout: NodeJS.WriteStream
  /** The keys that the pedals send. */
  readonly feet?: Feet
}): PlainTerminal => {
  const { stdin, stdout, now } = o
  const tokens = tokenizer()
  let listener: (key: Key) => void = () => {}
  let wait: NodeJS.Timeout | undefined
  let leaving: NodeJS.Timeout | undefined
  let closed = false
  let over = false
  /** What stands in the line that is being typed. */
  let shown = ''
  let again: NodeJS.Timeout | undefined

  const raw = (on: boolean): void => {
    if (stdin.isTTY) stdin.setRawMode(on)
  }
  const guard = guardProcess({
    leave: () => raw(false),
    back: () => {
      // Off first: Node does not set what it believes is set.
      raw(false)
      raw(!closed)
    },
  })
  const deliver = (keys: readonly Key[]): void => {
    clearTimeout(wait)
    const due = tokens.due()
    if (due !== null) wait = setTimeout(() => deliver(tokens.flush(now())), Math.max(0, due - now()))
    for (const key of keys) {
      if (key.id === 'C-c') {
        over = true
        leaving ??= setTimeout(() => guard.die('SIGINT'), LEAVES_WITHIN)
      }
      if (key.id === 'C-z') guard.stop()
      else if (!isFocus(key.id)) pedals.key(key)
    }
  }
  const pedals = footwork({ feet: o.feet, now, tell: key => listener(key) })
  const read = (bytes: Uint8Array): void => deliver(tokens.feed(bytes, now()))
  const quit = (): void => listener({ id: 'C-c', at: now() })
  const ended = (): void => {
    over = true
    quit()
  }

  const typing = (text: string | null): void => {
    clearTimeout(again)
    if (text === null) {
      if (shown !== '') stdout.write('\n')
      shown = ''
      return
    }
    if (text.startsWith(shown)) stdout.write(text.slice(shown.length))
    else if (shown.startsWith(text)) stdout.write('\b \b'.repeat([...shown].length - [...text].length))
    else {
      // Changed in its middle: once more as a whole, when the keys pause.
      again = setTimeout(() => {
        typing(null)
        typing(text)
      }, PAUSE)
      return
    }
    shown = text
  }

  raw(true)
  stdin.on('data', read)
  stdin.on('end', ended)
  stdin.resume()

  return {
    onKey: f => {
      listener = f
      // A pipe may have ended, or Ctrl+C have come, before anything listened or between one visit and the next.
      if (over) queueMicrotask(quit)
      return () => {
        listener = () => {}
      }
    },
    size: () => ({ rows: 24, cols: 80 }),
    onResize: () => () => {},
    ink: null,
    line: text => {
      typing(null)
      stdout.write(`${text}\n`)
    },
    typing,
    close: () => {
      if (closed) return
      closed = true
      clearTimeout(wait)
      clearTimeout(leaving)
      clearTimeout(again)
      pedals.close()
      guard.release()
      raw(false)
      stdin.off('data', read)
      stdin.off('end', ended)
      stdin.pause()
    },
  }
}
