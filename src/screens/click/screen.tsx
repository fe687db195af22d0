import { render } from 'ink'
import { keyLabel } from '../../terminal/learn.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { soundLine } from '../loudness.ts'
import { type ClickConductor, type ClickParts, conductClick, type Left } from './conduct.ts'
import { closing } from './reduce.ts'
import { ClickView, eyeRow, type Shown, stripRow } from './view.tsx'

/** Between two drawings of the traveling mark. Milliseconds. */
const EYE = 80

/** The click on screen until the player leaves it. The caller opens and closes terminal and sound. */
export const clickScreen = (o: ClickParts & { readonly terminal: Terminal }): Promise<Left> =>
  new Promise(resolve => {
    const { terminal, sound, timing } = o
    let ready = false
    let over = false

    const shown = (): Shown => ({
      state: conductor.state(),
      heard: conductor.heard(),
      turning: conductor.turning(),
      sound: ready ? soundLine(sound.output(), conductor.levels()) : 'the sound is being opened ...',
      pedals: o.count,
      keys: { right: keyLabel(o.pedals.right), left: keyLabel(o.pedals.left) },
      size: terminal.size(),
    })
    const draw = (): void => {
      if (!over) ink?.rerender(<ClickView {...shown()} />)
    }
    const leave = (): void => {
      over = true
      stopEye()
      for (const off of offs) off()
      conductor.close()
      ink?.unmount()
      resolve({ lines: closing(conductor.state()) })
    }
    const conductor: ClickConductor = conductClick({ ...o, changed: draw, left: leave })
    const ink: ReturnType<typeof render> | undefined = render(<ClickView {...shown()} />, terminal.ink)

    /** Without sound the mark travels: one row, drawn over the frame. */
    const eye = (): void => {
      const s = shown()
      const row = stripRow(s.size)
      if (ready && sound.output() === 'silent' && s.state.going && row !== null)
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
