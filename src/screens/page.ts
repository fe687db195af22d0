import type { Row, RowPart, Sheet } from '../terminal/painted.tsx'
import type { Size } from '../terminal/screen-writer.ts'
import { lineShown } from './line.ts'
import { kindOf, widthOf, windowIn } from './sizes.ts'
import { cellsOf, cut, inPhrases, inRows } from './text-rows.ts'
import { notShown, tooSmallText } from './words.ts'

type Style = Omit<RowPart, 'text'>
export const SOFT: Style = { color: 'soft' }
export const BOLD: Style = { bold: true }
const boldly = (on: boolean): Style => (on ? BOLD : {})

export const row = (text: string, style: Style = {}): Row => [{ text, ...style }]
export const lengthOf = (r: Row): number => r.reduce((n, p) => n + [...p.text].length, 0)

/** Rows beside each other: the right ones begin in one column. */
export const sideBySide = (left: readonly Row[], right: readonly Row[], column: number): readonly Row[] =>
  Array.from({ length: Math.max(left.length, right.length) }, (_, i) => {
    const [l, r] = [left[i] ?? [], right[i]]
    return r ? [...l, { text: ' '.repeat(Math.max(1, column - lengthOf(l))) }, ...r] : l
  })

/** Columns before and after what is written. */
export const MARGIN = 1
/** Columns before what is large. */
export const INDENT = 2
/** Columns before what stands in a list, where the sign of what is chosen stands. */
export const BAR = 3

export const indented = (rows: readonly string[], style: Style = {}, by = INDENT): readonly Row[] =>
  rows.map(text => row(' '.repeat(by) + text, style))

/** What is chosen stands behind the sign that begins a repeat. */
export const CHOSEN = '║: '
export const bar = (on: boolean): RowPart =>
  on ? { text: CHOSEN, bold: true, color: 'mark' } : { text: ' '.repeat(BAR) }

/** A line of a list, chosen or not. */
export const listed = (on: boolean, text: string): Row => [bar(on), { text, ...boldly(on) }]

/** What has just happened, in as many rows as it needs. */
export const happened = (text: string, width: number): readonly Row[] =>
  indented(inRows(text, width - 2 * BAR), BOLD, BAR)

/** A row that is cut where it is wider than so many cells. */
const cutRow = (r: Row, width: number): Row => {
  let room = width
  const kept: RowPart[] = []
  for (const [i, part] of r.entries()) {
    const rest = r.slice(i + 1).some(p => p.text !== '')
    const cells = cellsOf(part.text)
    if (cells > room || (cells === room && rest))
      return [...kept, { ...part, text: cut(`${part.text}${rest ? '…' : ''}`, room) }]
    kept.push(part)
    room -= cells
  }
  return kept
}

/** So many cells of a row: cut, or filled up behind, or before where they stand at the right. */
export const cell = (r: Row | string, width: number, right = false): Row => {
  const inside = cutRow(typeof r === 'string' ? row(r) : r, right ? width - 1 : width)
  const fill = { text: ' '.repeat(Math.max(0, width - inside.reduce((n, p) => n + cellsOf(p.text), 0))) }
  return right ? [fill, ...inside] : [...inside, fill]
}

/** A text in `room` columns and the mark where typing goes; null = it goes elsewhere. */
export const typedLine = (text: string, cursor: number | null, room: number, style: Style = {}): Row => {
  const [before, mark, after] = lineShown(text, cursor, room)
  return [
    { text: before, ...style },
    { text: mark, bold: true, color: 'mark' },
    { text: after, ...style },
  ]
}

/** A sentence, in which order it stands, and in which it goes where there is no room for all. */
export type Sentence = { readonly text: string; readonly weight: number; readonly style?: Style }

/** The sentences for which there is room, in their order; none is cut. */
export const textRows = (all: readonly Sentence[], width: number, room: number): readonly Row[] => {
  const rows = all.map(s => inPhrases(s.text, width))
  const order = all.map((_, i) => i).sort((a, b) => (all[a]?.weight ?? 0) - (all[b]?.weight ?? 0))
  const kept = new Set<number>()
  let left = room
  for (const i of order) {
    const n = rows[i]?.length ?? 0
    if (n > left) continue
    kept.add(i)
    left -= n
  }
  return all.flatMap((s, i) => (kept.has(i) ? indented(rows[i] ?? [], s.style, MARGIN) : []))
}

/** All that a window has room for that is too small for something. */
export const tooSmall = ({ cols }: Size, what = 'to play by'): Sheet =>
  indented(inRows(tooSmallText(what), cols), {}, 0)

/** Columns of what is read as text, however wide the window. */
export const READ = 72

/** Rows of text a little above the middle of the window, or at its top. */
export const inTheMiddle = (rows: readonly Row[], size: Size, atTop = false): Sheet => {
  const above = atTop ? 0 : Math.max(0, Math.min(size.rows - rows.length, Math.floor(size.rows / 2) - 4))
  const margin = { text: ' '.repeat(Math.max(0, Math.floor((size.cols - READ) / 2))) }
  return [...Array.from({ length: above }, () => []), ...rows.map(r => [margin, ...r])]
}

/** What stands at the top of the window and at its foot: of what is too much the top loses its end. */
export const topAndFoot = (above: readonly Row[], below: readonly Row[], rows: number): readonly Row[] => {
  const free = Math.max(0, rows - below.length)
  return [...Array.from({ length: free }, (_, i) => above[i] ?? []), ...below].slice(0, rows)
}

/** What stands at the top of a window, and at its foot. */
export type Halves = readonly [above: readonly Row[], below: readonly Row[]]

/** The composed columns in the middle of the window; below 40x12 one sentence that says what it is too small for. */
export const composed = (size: Size, what: string, halves: () => Halves): Sheet => {
  if (kindOf(size) === 'none') return tooSmall(size, what)
  const width = widthOf(size)
  const left = { text: ' '.repeat(Math.floor((size.cols - width) / 2)) }
  const [above, below] = halves()
  const top = kindOf(size) === 'full' ? [[]] : []
  return topAndFoot([...top, ...above], below, size.rows).map(r => [left, ...cutRow(r, width)])
}

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
