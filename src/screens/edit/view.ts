import type { Row, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { marginOf, titledForm } from '../form/view.ts'
import { BOLD, bar, composed, type Halves, indented } from '../page.ts'
import { kindOf, widthOf } from '../sizes.ts'
import { inRows } from '../text-rows.ts'
import { ANSWERS, QUESTIONS, type State } from './reduce.ts'

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
