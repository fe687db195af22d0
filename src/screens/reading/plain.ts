import { keyLabel } from '../../terminal/learn.ts'
import type { PlainTerminal } from '../../terminal/open-plain.ts'
import { conductReading, type ReadingParts } from './conduct.ts'
import { listed } from './marks.ts'
import { closing, offered, passOf, type State } from './reduce.ts'
import { pedalHint, TASK, tempoText } from './words.ts'

/** What is worth a line when the phase or the passage changes. */
const heading = (s: State): string => {
  if (s.phase === 'ready') return `${passOf(s).title}, ${tempoText(s)}.`
  if (s.phase === 'offer') return `Store as sections: ${listed(offered(s).map(x => x.name))}?`
  return ''
}

/** One slow reading as lines: one for each thing that changed, none for what only moves. */
export const readingPlain = (
  o: ReadingParts & { readonly terminal: PlainTerminal },
): Promise<{ readonly lines: readonly string[] }> =>
  new Promise((resolve, reject) => {
    const { terminal } = o
    const keys = { right: keyLabel(o.pedals.right), left: keyLabel(o.pedals.left) }
    let told = ''
    let note = ''
    let over = false

    const tell = (): void => {
      if (over) return
      const s = conductor.state()
      if (s.note !== note && s.note !== '') terminal.line(s.note)
      note = s.note
      const where = `${s.phase} ${s.at}`
      if (where === told) return
      told = where
      for (const line of [heading(s), pedalHint(s, o.count, keys)]) if (line !== '') terminal.line(line)
    }
    const close = (): void => {
      over = true
      off()
      conductor.close()
    }
    const conductor = conductReading({
      ...o,
      changed: tell,
      ended: () => {
        close()
        resolve({ lines: closing(conductor.state()) })
      },
      failed: error => {
        close()
        reject(error)
      },
    })
    terminal.line(TASK)
    tell()
    const off = terminal.onKey(key => conductor.key(key.id, key.at))
  })
