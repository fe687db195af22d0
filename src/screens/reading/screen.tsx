import { render } from 'ink'
import { keyLabel } from '../../terminal/learn.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { soundLine } from '../loudness.ts'
import { conductReading, type ReadingConductor, type ReadingParts } from './conduct.ts'
import { closing } from './reduce.ts'
import { eyeRow, ReadingView, type Shown, stripRow } from './view.tsx'

/** Between two drawings of the traveling mark. Milliseconds. */
const EYE = 80

/** One slow reading on screen, to its end or until the player leaves. The caller opens and closes terminal and sound. */
export const readingScreen = (
  o: ReadingParts & { readonly terminal: Terminal },
): Promise<{ readonly lines: readonly string[] }> =>
  new Promise((resolve, reject) => {
    const { terminal, sound, timing } = o
    let ready = false
    let over = false

    const shown = (): Shown => ({
      state: conductor.state(),
      frame: conductor.frame(),
      sound: ready ? soundLine(sound.output(), conductor.levels()) : 'the sound is being opened ...',
      pedals: o.count,
      keys: { right: keyLabel(o.pedals.right), left: keyLabel(o.pedals.left) },
      size: terminal.size(),
    })
    const draw = (): void => {
      if (!over) ink?.rerender(<ReadingView {...shown()} />)
    }
    const close = (): void => {
      over = true
      stopEye()
      for (const off of offs) off()
      conductor.close()
      ink?.unmount()
    }
    const conductor: ReadingConductor = conductReading({
      ...o,
      changed: draw,
      ended: () => {
        close()
        resolve({ lines: closing(conductor.state()) })
      },
      failed: error => {
        close()
        reject(error)
      },
    })
    const ink: ReturnType<typeof render> | undefined = render(<ReadingView {...shown()} />, terminal.ink)

    /** Without sound the mark travels: one row, drawn over the frame. */
    const eye = (): void => {
      const s = shown()
      const row = stripRow(s.size)
      if (ready && sound.output() === 'silent' && s.frame !== null && row !== null)
        terminal.patch(row, eyeRow(s))
      stopEye = timing.later(EYE, eye)
    }
    let stopEye = timing.later(EYE, eye)

    void sound.ready().then(() => {
      ready = true
      draw()
    })
    const offs = [
      terminal.onKey(key => conductor.key(key.id, key.at)),
      terminal.onResize(draw),
      terminal.onResume(draw),
    ]
    draw()
  })
