import { render } from 'ink'
import type { ReactElement } from 'react'
import type { Levels } from '../click/voices.ts'
import type { Sound } from '../sound/sound.ts'
import type { Terminal } from '../terminal/open-terminal.ts'
import { travels } from './eye.ts'
import { soundLine } from './loudness.ts'
import type { Timing } from './slept.ts'

/** What hears the keys and keeps the state of a screen. */
type Conductor = {
  readonly levels: () => Levels
  /** A key by its id at a time in monotonic ms. */
  readonly key: (id: string, at: number) => void
  readonly close: () => void
}

/**
 * Opens a screen that a conductor keeps: it is drawn when something has changed, and without sound a mark travels.
 * `sound` is what the screen says about its sound. The caller opens and closes terminal and sound, and calls `close`.
 */
export const conducted = <C extends Conductor>(o: {
  readonly terminal: Terminal
  readonly sound: Sound
  readonly timing: Timing
  readonly conduct: (changed: () => void) => C
  readonly view: (c: C, sound: string) => ReactElement
  /** The row in which the mark travels (0 = top) and its text; null while nothing does. */
  readonly eye: (c: C, sound: string) => { readonly row: number; readonly text: string } | null
}): { readonly conductor: C; readonly close: () => void } => {
  const { terminal, sound, timing } = o
  let ready = false
  let over = false
  const said = (): string => soundLine(ready ? sound.output() : null, conductor.levels())
  const draw = (): void => {
    if (!over) ink?.rerender(o.view(conductor, said()))
  }
  const conductor = o.conduct(draw)
  const ink: ReturnType<typeof render> | undefined = render(o.view(conductor, said()), terminal.ink)
  void sound.ready().then(() => {
    ready = true
    draw()
  })
  const offs = [
    travels(timing, () => {
      const eye = ready && sound.output() === 'silent' ? o.eye(conductor, said()) : null
      if (eye) terminal.patch(eye.row, eye.text)
    }),
    terminal.onKey(key => conductor.key(key.id, key.at)),
    terminal.onResize(draw),
    terminal.onResume(draw),
  ]
  draw()
  return {
    conductor,
    close: () => {
      over = true
      for (const off of offs) off()
      conductor.close()
      ink?.unmount()
    },
  }
}
