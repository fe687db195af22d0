import { inkStreams } from '../../terminal/ink-streams.ts'
import type { PlainTerminal } from '../../terminal/open-plain.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import type { Key } from '../../terminal/tokenizer.ts'

/** The usual size of a terminal, for which the practice screen is composed. */
export const SIZE = { rows: 24, cols: 80 } as const

/** A terminal that nobody looks at. */
export const emptyHall = (): Terminal => {
  const off = (): void => {}
  const unseen = inkStreams(() => SIZE, off).options
  return {
    size: () => SIZE,
    onKey: () => off,
    onResize: () => off,
    onResume: () => off,
    ink: unseen,
    inkForRows: unseen,
    patch: off,
    close: off,
  }
}

export type Stage<T> = {
  /** For the screen: it hears the scripted player's keys, and Ctrl+C at any key of the viewer. */
  readonly terminal: T
  readonly press: (key: string) => void
}

/** Puts a scripted player between the viewer's keyboard and the screen. `now` in monotonic ms. */
export const stageOn = <T extends Terminal | PlainTerminal>(terminal: T, now: () => number): Stage<T> => {
  const listeners = new Set<(key: Key) => void>()
  const press = (id: string): void => {
    for (const f of [...listeners]) f({ id, at: now() })
  }
  terminal.onKey(() => press('C-c'))
  const onKey = (f: (key: Key) => void): (() => void) => {
    listeners.add(f)
    return () => void listeners.delete(f)
  }
  return { terminal: { ...terminal, onKey }, press }
}
