import type { Row, RowPart } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import type { State } from '../home/reduce.ts'
import { formTitle, notShown } from '../home/words.ts'
import { BAR, BOLD, bar, cell, type Halves, happened, indented, row, SOFT, typedLine } from '../page.ts'
import { kindOf, widthOf, windowOf } from '../sizes.ts'
import { inRows } from '../text-rows.ts'
import { type Around, type Form, hintOf, labelOf, understood, type Wrong, wrong } from './form.ts'

/** Columns of the labels, and of what is said beside the texts in a window of 80; a wider one gives the rest to the texts. */
const LABEL = 13
const BESIDE = 36

/** Columns before what stands in a form. */
export const marginOf = (size: Size): number => (kindOf(size) === 'small' ? 0 : BAR)

/** What is said beside a field: what was understood, and of what stands in the repertoire what was there before. */
const told = (form: Form, index: number, around: Around): string => {
  const line = form.rows[index]
  const isChanged = (r = line): boolean => r !== undefined && r.text.trim() !== r.was
  if (!form.piece) return understood(form, index, around)
  if (isChanged())
    return [understood(form, index, around), `before: ${line?.was || 'none'}`].filter(Boolean).join(', ')
  // A new place brings its number of measures, unless that is typed too.
  if (line?.key === 'count' && form.rows.some(r => r.key === 'measures' && isChanged(r)))
    return 'as the place says'
  return line?.list ? understood(form, index, around) : ''
}

const fieldRow = (form: Form, index: number, around: Around, size: Size, bad: boolean): Row => {
  const on = index === form.at
  const narrow = kindOf(size) === 'small'
  const width = widthOf(size) - BAR - LABEL - (narrow ? 0 : BESIDE)
  const text = typedLine(form.rows[index]?.text ?? '', on ? form.cursor : null, width - 1)
  const beside: RowPart = bad
    ? { text: 'look again', color: 'bad' }
    : { text: told(form, index, around), color: 'soft' }
  return [
    bar(on),
    ...cell(row(labelOf(form, index), on ? BOLD : {}), LABEL),
    ...cell(narrow && bad ? [...text, { text: ' look again' }] : text, width),
    ...(narrow ? [] : [beside]),
  ]
}

/**
 * A form under its title: the lines that fit, `most` of them, what is not shown of it, a hint, and what is wrong; at the foot
 * what has just happened and the keys.
 */
export const titledForm = (o: {
  readonly title: string
  readonly form: Form
  readonly around: Around
  readonly size: Size
  readonly most: number
  readonly note: string
  readonly keys: string
}): Halves => {
  const { form, around, size } = o
  const margin = marginOf(size)
  const bad: Wrong | null = wrong(form, around)
  const rows = (text: string, color: 'soft' | 'bad'): readonly Row[] =>
    indented(inRows(text, widthOf(size) - 2 * margin), { color }, margin)
  const says = [...rows(hintOf(form), 'soft'), ...rows(bad?.says ?? '', 'bad')]
  const foot = [...happened(o.note, widthOf(size)), ...indented([o.keys], {}, margin)]
  const taken = (margin > 0 ? 4 : 2) + says.length + foot.length
  const { from, to } = windowOf(form.rows.length, form.at, Math.min(o.most, size.rows - taken))
  const more = notShown(from, form.rows.length - to)
  return [
    [
      ...indented([o.title], BOLD, margin),
      ...(margin > 0 ? [[]] : []),
      ...form.rows
        .slice(from, to)
        .map((_, i) => fieldRow(form, from + i, around, size, bad?.row === from + i)),
      ...indented(
        [more].filter(text => margin > 0 || text !== ''),
        SOFT,
        margin,
      ),
      ...says,
    ],
    foot,
  ]
}

/** The form of a new passage, or of a quick ladder. */
export const newRows = (s: State, form: Form, size: Size) => {
  const narrow = kindOf(size) === 'small'
  const last = form.at === form.rows.length - 1
  const enter = !last ? 'next line' : s.view === 'quick' ? 'to the ladder' : 'store it'
  const several = form.rows.length > 1 ? '   up, down: another line' : ''
  return titledForm({
    title: formTitle(s.view === 'quick', s.rows.length > 0),
    form,
    around: s.around,
    size,
    most: narrow ? size.rows - 7 : form.rows.length,
    note: s.busy ? 'Storing ...' : s.note,
    keys: narrow
      ? `Enter: ${enter}  Escape: back`
      : `Enter: ${enter}${several}   Escape: back, nothing is lost`,
  })
}
