import { keyLabel } from '../../terminal/learn.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { conducted } from '../conducted.tsx'
import { conductReading, type ReadingConductor, type ReadingParts } from './conduct.ts'
import { closing } from './reduce.ts'
import { eyeRow, ReadingView, type Shown, stripRow } from './view.tsx'

/** One slow reading on screen, to its end or until the player leaves. The caller opens and closes terminal and sound. */
export const readingScreen = (
  o: ReadingParts & { readonly terminal: Terminal },
): Promise<{ readonly lines: readonly string[] }> =>
  new Promise((resolve, reject) => {
    const shown = (c: ReadingConductor, sound: string): Shown => ({
      state: c.state(),
      frame: c.frame(),
      sound,
      pedals: o.count,
      keys: { right: keyLabel(o.pedals.right), left: keyLabel(o.pedals.left) },
      size: o.terminal.size(),
    })
    const ended = (): void => {
      close()
      resolve({ lines: closing(conductor.state()) })
    }
    const failed = (error: unknown): void => {
      close()
      reject(error)
    }
    const { conductor, close } = conducted<ReadingConductor>({
      ...o,
      conduct: changed => conductReading({ ...o, changed, ended, failed }),
      view: (c, sound) => <ReadingView {...shown(c, sound)} />,
      eye: (c, sound) => {
        const row = stripRow(o.terminal.size())
        return c.frame() !== null && row !== null ? { row, text: eyeRow(shown(c, sound)) } : null
      },
    })
  })
