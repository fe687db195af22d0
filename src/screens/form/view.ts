import type { Row, RowPart, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import {
  BAR,
  BOLD,
  bar,
  cell,
  composed,
  type Halves,
  happened,
  indented,
  row,
  SOFT,
  typedLine,
} from '../page.ts'
import { kindOf, widthOf, windowOf } from '../sizes.ts'
import { inRows } from '../text-rows.ts'
import { joined, notShown } from '../words.ts'
import { type Around, changed, type Form, hintOf, labelOf, understood, type Wrong, wrong } from './form.ts'
import { ANSWERS, QUESTIONS, type State } from './reduce.ts'
import { fieldLine } from './words.ts'

/** Columns of the labels, and of what is said beside the texts in a window of 80; a wider one gives the rest to the texts. */
const LABEL = 13
const BESIDE = 36

/** Columns before what stands in a form. */
const marginOf = (size: Size): number => (kindOf(size) === 'small' ? 0 : BAR)

/** What is said beside a field: what was understood, and of what stands in the repertoire what was there before. */
const told = (form: Form, index: number, around: Around): string => {
  const line = form.rows[index]
  if (!form.piece || !line) return understood(form, index, around)
  if (changed(line)) return joined([understood(form, index, around), `before: ${line.was || 'none'}`])
  // A new place brings its number of measures, unless that is typed too.
  if (line.key === 'count' && form.rows.some(r => r.key === 'measures' && changed(r)))
    return 'as the place says'
  return line.list ? understood(form, index, around) : ''
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

/** Rows around the list of fields: title, what is not shown, hint, complaint, note and keys. */
const AROUND = { full: 11, small: 8 }

/** Rows of the form that fit. */
export const rowsThatFit = (size: Size): number =>
  Math.max(1, size.rows - (kindOf(size) === 'small' ? AROUND.small : AROUND.full))

const fields = (s: State, title: string, size: Size) => {
  const last = s.form.at === s.form.rows.length - 1
  const keys =
    kindOf(size) === 'small'
      ? 'Ctrl+S: store it   Escape: leave'
      : `Enter: ${last ? 'store it' : 'next line'}   up, down: another line   Ctrl+S: store it   Escape: leave`
  const { form, around, busy, note } = s
  return titledForm({
    title,
    form,
    around,
    size,
    most: rowsThatFit(size),
    note: busy ? 'Storing ...' : note,
    keys,
  })
}

const question = (s: State, view: keyof typeof ANSWERS, title: string, size: Size): Halves => {
  const margin = marginOf(size)
  const narrow = margin === 0
  const answers = ANSWERS[view].map(({ name, says }, i): Row => {
    const on = i === s.answer
    return [bar(on), { text: name, ...(on ? BOLD : {}) }, { text: narrow ? '' : `: ${says}` }]
  })
  const keys = narrow
    ? 'Enter: this one   Escape: the form'
    : 'up, down: choose   Enter: this one   Escape: back to the form'
  return [
    [
      ...indented([title], BOLD, margin),
      [],
      ...indented(inRows(QUESTIONS[view](s), widthOf(size) - 6), {}, margin),
      [],
      ...answers,
    ],
    indented([keys], {}, margin),
  ]
}

/** What stands in the repertoire as a form, one line a field or entry; and the two questions that it may ask. */
export const editSheet = (s: State, title: string, size: Size): Sheet =>
  composed(size, 'for the form', () =>
    s.view === 'form' ? fields(s, title, size) : question(s, s.view, title, size),
  )

/** The label as it was before anything was typed here: it does not count along with every character. */
const labelBefore = (f: Form): string => {
  const row = f.rows[f.at]
  return row ? labelOf({ ...f, rows: f.rows.with(f.at, { ...row, text: row.was }) }, f.at) : ''
}

/**
 * A form as lines: what is asked now, what the line before was understood as, and what is wrong. While one types there is
 * nothing to say: the text itself stands there.
 */
export const formLines = (): ((form: Form, around: Around) => Readonly<Record<string, string>>) => {
  let before: Form | null = null
  return (form, around) => {
    const last = before
    before = form
    const field = fieldLine(labelBefore(form), form.at, form.rows.length, hintOf(form))
    const here = last?.rows[last.at]
    const there = form.rows[form.at]
    if (here && last.at === form.at && here.text !== there?.text) return { field, meant: '', wrong: '' }
    const meant =
      here && last.at !== form.at && here.text.trim() !== here.was ? understood(last, last.at, around) : ''
    return {
      meant: meant && last ? `${labelOf(last, last.at)}: ${meant}.` : '',
      wrong: wrong(form, around)?.says ?? '',
      field,
    }
  }
}

/** What is being typed now. */
export const typedIn = (form: Form): string => form.rows[form.at]?.text ?? ''
