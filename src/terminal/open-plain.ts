import type { Feet } from './feet.ts'
import { keyboard } from './keyboard.ts'
import { guardProcess, leaveInPeace } from './process-guard.ts'
import type { Key } from './tokenizer.ts'

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

/**
 * More keys in one read than a line that is pasted: nothing tells a paste here. What lies on the keyboard longer is no
 * answer.
 */
const FLOOD = 1000

/** Keys from a terminal (raw) or a pipe; its end counts as Ctrl+C. `now` in monotonic ms. */
export const openPlain = (o: {
  readonly now: () => number
  readonly stdin: NodeJS.ReadStream
  readonly stdout: NodeJS.WriteStream
  /** The keys that the pedals send. */
  readonly feet?: Feet
}): PlainTerminal => {
  const { stdin, stdout, now } = o
  let closed = false
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
  const keys = keyboard({ now, feet: o.feet, flood: stdin.isTTY ? FLOOD : null, guard: () => guard })

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
  stdin.on('data', keys.read)
  stdin.on('end', keys.end)
  stdin.resume()

  return {
    onKey: keys.onKey,
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
      clearTimeout(again)
      keys.close()
      guard.release()
      leaveInPeace()
      raw(false)
      stdin.off('data', keys.read)
      stdin.off('end', keys.end)
      stdin.pause()
    },
  }
}
