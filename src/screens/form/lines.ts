import { type Around, type Form, hintOf, labelOf, understood, wrong } from './form.ts'
import { fieldLine } from './words.ts'

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
