import { writeSync } from 'node:fs'
import type { RenderOptions } from 'ink'
import type { Feet } from './feet.ts'
import { inkStreams } from './ink-streams.ts'
import { FOCUS_LOST } from './key-names.ts'
import { keyboard, listeners } from './keyboard.ts'
import { terminalKind } from './learn.ts'
import { spelled } from './painted.tsx'
import { guardProcess, leaveInPeace } from './process-guard.ts'
import { enterScreen, leaveScreen, type Size, screenWriter } from './screen-writer.ts'
import type { Key } from './tokenizer.ts'
import { NOT_IN_FRONT, type Notice, OTHER_TERMINAL } from './words.ts'

/**
 * More keys in one read than a person presses, even with a key held while the computer stood still for two seconds
 * (ms apart: 30): something lies on the keyboard, or was pasted by a terminal that does not say so.
 */
const FLOOD = 64
/** After this long without a pedal, in another kind of terminal than it was learned in, the player is told, ms. */
const NO_PEDAL = 60_000

export type Terminal = {
  size(): Size
  /**
   * Every key but Ctrl+Z, in order; Ctrl+C is the key 'C-c', and whoever hears it leaves: who begins to listen after it
   * hears it too. Of a flood nothing is told but Ctrl+C. Returns what takes the listener away.
   */
  onKey(f: (key: Key) => void): () => void
  /** After the size changed; Ink has its own notice. */
  onResize(f: () => void): () => void
  /** After the program was stopped (Ctrl+Z) and went on; the screen is already painted again. */
  onResume(f: () => void): () => void
  /** The options for Ink's `render`: `render(element, terminal.ink)`. */
  ink: RenderOptions
  /**
   * Draws over a row (0 = top), and with more lines of text over those below it, without React; see ScreenWriter. Null
   * gives the row back to the frame.
   */
  patch(row: number, text: string | null): void
  /** Gives the terminal back. Synchronous; a second call does nothing. */
  close(): void
}

/**
 * Takes the whole terminal: raw keys, alternate screen, no cursor. Whatever ends the process gives it back first.
 * Both streams must be terminals; `now` is a monotonic clock in ms, the one that pedals are judged by.
 */
export const openTerminal = (o: {
  now: () => number
  stdin: NodeJS.ReadStream
  stdout: NodeJS.WriteStream
  /** The keys that the pedals send. */
  feet?: Feet
  /** Stands in the last row until a key arrives. */
  first?: Notice | undefined
}): Terminal => {
  const { stdin, stdout, now } = o
  const size = (): Size => ({ rows: stdout.rows || 24, cols: stdout.columns || 80 })
  const resizes = listeners<void>()
  const resumes = listeners<void>()
  const writer = screenWriter(size())
  let ours = false
  let busy = false
  let closed = false
  /** Said in the last row, until a key arrives. */
  let notice: Notice | null = null
  let footHeard = false

  const show = (): void => {
    if (!ours || busy) return
    if (notice !== null) writer.patch(size().rows - 1, fitting(notice, size().cols))
    const bytes = writer.update()
    if (bytes !== '') busy = !stdout.write(bytes)
  }
  const drained = (): void => {
    busy = false
    show()
  }
  const draw = (text: string): void => {
    writer.frame(text)
    show()
  }
  const ink = inkStreams(size, text => draw(spelled(text)))

  const enter = (): void => {
    // Off first: after a stop the system has taken raw mode away, and Node does not set what it believes is set.
    stdin.setRawMode(false)
    stdin.setRawMode(true)
    stdout.write(enterScreen())
    ours = true
    notice = null
    writer.forget()
    show()
  }
  const leave = (): void => {
    if (!ours) return
    ours = false
    writeNow(stdout, leaveScreen())
    try {
      stdin.setRawMode(false)
    } catch {
      // The terminal is gone.
    }
  }

  const say = (next: Notice | null): void => {
    if (next === notice) return
    notice = next
    if (notice === null) writer.patch(size().rows - 1, null)
    show()
  }
  const feet = o.feet === undefined || o.feet === 'any' ? [] : o.feet.keys
  const learnedIn = o.feet === undefined || o.feet === 'any' ? undefined : o.feet.learnedIn
  const elsewhere = learnedIn !== undefined && learnedIn !== terminalKind(process.env)
  const unheard = setTimeout(() => {
    if (!footHeard) say(OTHER_TERMINAL)
  }, NO_PEDAL)
  unheard.unref()
  if (!elsewhere) clearTimeout(unheard)
  const keys = keyboard({
    now,
    feet: o.feet,
    flood: FLOOD,
    guard: () => guard,
    // A key that arrives is proof, whatever was said last.
    arrived: key => say(key.id === FOCUS_LOST ? NOT_IN_FRONT : null),
    told: key => {
      footHeard ||= feet.includes(key.id)
    },
  })
  let drawnAnew = false
  const resized = (): void => {
    drawnAnew = true
    writer.resize(size())
    resizes.tell()
    ink.resized()
    show()
  }
  /** A window that was small for a moment has lost its rows, though it is as large as before when we look. */
  const changed = (): void => {
    if (!drawnAnew) {
      writer.forget()
      show()
    }
    drawnAnew = false
  }
  const gone = (): void => guard.die('SIGHUP')

  const guard = guardProcess({
    leave,
    back() {
      enter()
      // A stopped program is not told of a new size; Node asks for it when it gets this signal.
      process.kill(process.pid, 'SIGWINCH')
      resumes.tell()
    },
  })
  stdin.on('data', keys.read)
  stdin.on('end', gone)
  stdin.on('error', gone)
  stdout.on('error', gone)
  stdout.on('drain', drained)
  stdout.on('resize', resized)
  process.on('SIGWINCH', changed)
  enter()
  if (o.first) say(o.first)
  stdin.resume()

  return {
    size,
    onKey: keys.onKey,
    onResize: resizes.add,
    onResume: resumes.add,
    ink: ink.options,
    patch(row, text) {
      if (text === null) writer.patch(row, null)
      else for (const [i, line] of text.split('\n').entries()) writer.patch(row + i, line)
      show()
    },
    close() {
      if (closed) return
      closed = true
      leave()
      keys.close()
      guard.release()
      leaveInPeace()
      clearTimeout(unheard)
      stdin.off('data', keys.read)
      stdin.off('end', gone)
      stdin.off('error', gone)
      stdout.off('error', gone)
      stdout.off('drain', drained)
      stdout.off('resize', resized)
      process.off('SIGWINCH', changed)
      stdin.pause()
    },
  }
}

const fitting = ([long, short]: Notice, cols: number): string => ` ${long.length < cols ? long : short}`

/** Past all buffers, since the process may end in the next moment. */
const writeNow = (stdout: NodeJS.WriteStream & { fd?: number }, text: string): void => {
  if (typeof stdout.fd !== 'number') {
    stdout.write(text)
    return
  }
  let rest = Buffer.from(text)
  for (let attempt = 0; rest.length > 0 && attempt < 100; attempt += 1) {
    try {
      rest = rest.subarray(writeSync(stdout.fd, rest))
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') return
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 5)
    }
  }
}
