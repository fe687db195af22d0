import { render } from 'ink'
import { createElement } from 'react'
import type { PlainTerminal } from '../../terminal/open-plain.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { Painted, type Row, type Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { inRows, kindOf, windowOf } from '../home/layout.ts'
import { notShown } from '../home/words.ts'
import { indented, inPhrases, MARGIN, tooSmall } from '../page.ts'

/** No line runs longer, however wide the window. */
const WIDEST = 78

/** A title, some lines and what the keys do; of more lines than there is room for those around the chosen one. */
export const linesSheet = (p: {
  readonly title: string
  readonly lines: readonly string[]
  readonly hint: string
  readonly size: Size
}): Sheet => {
  const { size } = p
  if (kindOf(size) === 'none') return tooSmall(size)
  const width = Math.min(WIDEST, size.cols - 2 * MARGIN)
  const blocks = p.lines.map((text): readonly Row[] => {
    // Lines that are not chosen stand as far in as the one that is.
    const [before = ''] = /^ */.exec(text) ?? []
    const rows = inPhrases(text.trimStart(), width - before.length)
    return indented(
      text === '' ? [''] : rows.map((row, i) => (i === 0 ? `${before}${row}` : `  ${row}`)),
      text.startsWith('>') ? { bold: true } : {},
      MARGIN,
    )
  })
  const top = size.rows < 20 ? [] : [[]]
  const head = [...top, ...indented(inRows(p.title, width), { bold: true }, MARGIN), []]
  const foot = indented(inPhrases(p.hint, width), { color: 'soft' }, MARGIN)
  const room = size.rows - head.length - foot.length - 1
  const chosen = Math.max(
    0,
    p.lines.findIndex(text => text.startsWith('>')),
  )
  const shown = (n: number) => windowOf(blocks.length, chosen, n)
  const rowsOf = ({ from, to }: { from: number; to: number }): readonly Row[] => blocks.slice(from, to).flat()
  let count = blocks.length
  while (count > 1 && rowsOf(shown(count)).length > room) count -= 1
  const { from, to } = shown(count)
  const rows = rowsOf({ from, to })
  const gap = Array.from({ length: Math.max(0, room - rows.length) }, (): Row => [])
  const more = indented([notShown(from, blocks.length - to)], { color: 'soft' }, MARGIN)
  return [...head, ...rows, ...gap, ...more, ...foot]
}

/** Shows lines that change with the keys; on a plain terminal `said` is printed when it is another sentence than before. */
export const linesScreen = (o: {
  readonly terminal: Terminal | PlainTerminal
  readonly title: string
  readonly hint: string
  readonly lines: () => readonly string[]
  readonly said: () => string
  readonly key: (id: string, at: number) => void
}): { readonly draw: () => void; readonly close: () => void } => {
  const { terminal, title, hint } = o
  const view = () =>
    createElement(Painted, { sheet: linesSheet({ title, hint, lines: o.lines(), size: terminal.size() }) })
  let last = ''
  const line = terminal.ink === null ? terminal.line : null
  const ink = terminal.ink === null ? null : render(view(), terminal.inkForRows)
  line?.(title)
  line?.(hint)
  const draw = (): void => {
    ink?.rerender(view())
    const said = o.said()
    if (said !== '' && said !== last) line?.(said)
    last = said
  }
  const offs = [terminal.onKey(key => o.key(key.id, key.at)), terminal.onResize(draw)]
  draw()
  return {
    draw,
    close: () => {
      for (const off of offs) off()
      ink?.unmount()
    },
  }
}
