import { EventEmitter } from 'node:events'
import type { RenderOptions } from 'ink'
import type { Size } from './screen-writer.ts'

/**
 * What Ink's `render` gets instead of the terminal. With `debug: true` Ink hands over every frame whole, which
 * the screen writer then compares by rows; Ink 6's own writers redraw everything or draw a row too low.
 * Ink never sees the keyboard: its parser merges two keys of one read and loses a key cut into two reads.
 */
export const inkStreams = (
  size: () => Size,
  frame: (text: string) => void,
): { options: RenderOptions; resized: () => void } => {
  const stdout = Object.assign(new EventEmitter(), {
    isTTY: false,
    write(text: string, done?: () => void): boolean {
      // Ink writes '' to clear what it believes it wrote; here it wrote nothing.
      if (text !== '') frame(text)
      done?.()
      return true
    },
  })
  Object.defineProperties(stdout, {
    columns: { get: () => size().cols },
    rows: { get: () => size().rows },
  })
  const nothing = (): void => {}
  const stdin = Object.assign(new EventEmitter(), {
    isTTY: false,
    read: () => null,
    ref: nothing,
    unref: nothing,
    setEncoding: nothing,
    setRawMode: nothing,
  })
  return {
    options: {
      stdout: stdout as unknown as NodeJS.WriteStream,
      stdin: stdin as unknown as NodeJS.ReadStream,
      debug: true,
      exitOnCtrlC: false,
      patchConsole: false,
    },
    resized: () => stdout.emit('resize'),
  }
}
