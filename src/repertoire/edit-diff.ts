import { linesOf } from './change-list.ts'
import type { Where } from './edit.ts'
import type { Table } from './field.ts'
import { PASSAGE, PIECE, SECTION } from './fields.ts'
import { KINDS, LISTS, type ListKey } from './lists.ts'
import type { Passage, Piece } from './passage.ts'
import { textIn } from './set-fields.ts'

/** One field before and after, as it is typed; an empty text = none. Of a list: what was taken out, what was put in. */
export type Difference = {
  readonly label: string
  readonly was: string
  readonly now: string
  readonly list?: true
}

const fields = (table: Table, a: object | undefined, b: object | undefined): readonly Difference[] =>
  a && b
    ? Object.entries(table).map(([key, f]) => ({
        label: f.label,
        was: textIn(a, key, f),
        now: textIn(b, key, f),
      }))
    : []

/** Of a list only the entries that differ. */
const list = (key: ListKey, a: Passage, b: Passage): Difference => {
  const [was, now] = [linesOf(key, a), linesOf(key, b)].map(lines => lines.map(l => l.text)) as [
    string[],
    string[],
  ]
  const without = (all: readonly string[], other: readonly string[]): string =>
    all.filter(text => !other.includes(text)).join('; ')
  return { label: KINDS[key].all, was: without(was, now), now: without(now, was), list: true }
}

/** What an edit changed. */
export const editDiff = (before: Piece, after: Piece, w: Where): readonly Difference[] => {
  const at = before.passages.findIndex(p => p.id === w.passage)
  const [a, b] = [before.passages[at], after.passages[at]]
  const section = a?.sections?.findIndex(s => s.id === w.section) ?? -1
  const all =
    w.passage === undefined
      ? fields(PIECE, before, after)
      : w.section !== undefined
        ? fields(SECTION, a?.sections?.[section], b?.sections?.[section])
        : fields(PASSAGE, a, b)
  const lists = a && b && w.section === undefined ? LISTS.map(key => list(key, a, b)) : []
  const notes = (p: Passage | undefined): string => (p?.notes ? `${p.notes.length}` : '')
  return [...all, ...lists, { label: 'notes read from the part', was: notes(a), now: notes(b) }].filter(
    d => d.was !== d.now,
  )
}
