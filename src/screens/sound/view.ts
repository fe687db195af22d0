import type { Row, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { notShown } from '../home/words.ts'
import { BOLD, indented, MARGIN, SOFT, tooSmall, topAndFoot } from '../page.ts'
import { kindOf, windowIn } from '../sizes.ts'
import { inPhrases, inRows } from '../text-rows.ts'

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
      text.startsWith('>') ? BOLD : {},
      MARGIN,
    )
  })
  const top = size.rows < 20 ? [] : [[]]
  const head = [...top, ...indented(inRows(p.title, width), BOLD, MARGIN), []]
  const foot = indented(inPhrases(p.hint, width), SOFT, MARGIN)
  const room = size.rows - head.length - foot.length - 1
  const chosen = p.lines.findIndex(text => text.startsWith('>'))
  const { from, to } = windowIn(
    room,
    blocks.length,
    Math.max(0, chosen),
    w => blocks.slice(w.from, w.to).flat().length,
  )
  const more = indented([notShown(from, blocks.length - to)], SOFT, MARGIN)
  return topAndFoot([...head, ...blocks.slice(from, to).flat()], [...more, ...foot], size.rows)
}
