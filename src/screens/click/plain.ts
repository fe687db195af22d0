import { spoken } from '../../music/tempo.ts'
import { keyLabel } from '../../terminal/learn.ts'
import type { PlainTerminal } from '../../terminal/open-plain.ts'
import { type ClickParts, conductClick, type Left } from './conduct.ts'
import { clickText, closing, noteOf, pedalHint } from './reduce.ts'

/** The click as lines: one for each thing that changed, none for what only moves. */
export const clickPlain = (o: ClickParts & { readonly terminal: PlainTerminal }): Promise<Left> =>
  new Promise(resolve => {
    const { terminal } = o
    let told = ''
    let note = ''
    let going = false
    let over = false

    const tell = (): void => {
      if (over) return
      const s = conductor.state()
      const now = `${spoken(s.tempo)}, ${clickText(s)}`
      if (now !== told) terminal.line(s.going ? `From the next bar line: ${now}` : now)
      if (s.going !== going) terminal.line(s.going ? 'Started.' : 'Stopped.')
      const text = noteOf(s)
      if (text !== note && text !== '' && s.typing === '') terminal.line(text)
      ;[told, going, note] = [now, s.going, text]
    }
    const conductor = conductClick({
      ...o,
      changed: tell,
      left: () => {
        over = true
        off()
        conductor.close()
        resolve({ lines: closing(conductor.state()) })
      },
    })
    const { right, left } = { right: keyLabel(o.pedals.right), left: keyLabel(o.pedals.left) }
    terminal.line(`The click. ${pedalHint(false, o.count, { right, left })}; t taps a tempo, f leaves.`)
    tell()
    const off = terminal.onKey(key => conductor.key(key.id, key.at))
  })
