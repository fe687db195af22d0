import { keyLabel } from '../../terminal/learn.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { conducted } from '../conducted.tsx'
import { type ClickConductor, type ClickParts, conductClick, type Left } from './conduct.ts'
import { closing } from './reduce.ts'
import { ClickView, eyeRow, type Shown, stripRow } from './view.tsx'

/** The click on screen until the player leaves it. The caller opens and closes terminal and sound. */
export const clickScreen = (o: ClickParts & { readonly terminal: Terminal }): Promise<Left> =>
  new Promise(resolve => {
    const shown = (c: ClickConductor, sound: string): Shown => ({
      state: c.state(),
      heard: c.heard(),
      turning: c.turning(),
      sound,
      pedals: o.count,
      keys: { right: keyLabel(o.pedals.right), left: keyLabel(o.pedals.left) },
      size: o.terminal.size(),
    })
    const leave = (): void => {
      close()
      resolve({ lines: closing(conductor.state()) })
    }
    const { conductor, close } = conducted<ClickConductor>({
      ...o,
      conduct: changed => conductClick({ ...o, changed, left: leave }),
      view: (c, sound) => <ClickView {...shown(c, sound)} />,
      eye: (c, sound) => {
        const row = stripRow(o.terminal.size())
        return c.state().going && row !== null ? { row, text: eyeRow(shown(c, sound)) } : null
      },
    })
  })
