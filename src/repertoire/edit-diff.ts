import type { Where } from './edit.ts'
import { type EditField, PASSAGE_EDITS, PIECE_EDITS, SECTION_EDITS } from './edit-fields.ts'
import { LISTS, type ListKey, linesOf } from './entries.ts'
import type { Passage, Piece } from './piece.ts'

/** One field before and after, as it is typed; an empty text = none. Of a list: what was taken out, what was put in. */
export type Difference = {
  readonly label: string
  readonly was: string
  readonly now: string
  readonly list?: true
}

const LIST_LABELS: { readonly [K in ListKey]: string } = {
  rehearsals: 'rehearsal marks',
  changes: 'meter changes',
  tempos: 'tempos',
  breaths: 'breaths and marks',
  rhythms: 'rhythms',
  sections: 'sections',
}

const fields = <T>(
  all: readonly EditField<T>[],
  a: T | undefined,
  b: T | undefined,
): readonly Difference[] => (a && b ? all.map(f => ({ label: f.label, was: f.get(a), now: f.get(b) })) : [])

/** Of a list only the entries that differ. */
const list = (key: ListKey, a: Passage, b: Passage): Difference => {
  const [was, now] = [linesOf(key, a), linesOf(key, b)].map(lines => lines.map(l => l.text)) as [
    string[],
    string[],
  ]
  const without = (all: readonly string[], other: readonly string[]): string =>
    all.filter(text => !other.includes(text)).join('; ')
  return { label: LIST_LABELS[key], was: without(was, now), now: without(now, was), list: true }
}

/** What an edit changed. */
export const editDiff = (before: Piece, after: Piece, w: Where): readonly Difference[] => {
  const at = before.passages.findIndex(p => p.id === w.passage)
  const [a, b] = [before.passages[at], after.passages[at]]
  const section = a?.sections?.findIndex(s => s.id === w.section) ?? -1
  const all =
    w.passage === undefined
      ? fields(PIECE_EDITS, before, after)
      : w.section !== undefined
        ? fields(SECTION_EDITS, a?.sections?.[section], b?.sections?.[section])
        : fields(PASSAGE_EDITS, a, b)
  const lists = a && b && w.section === undefined ? LISTS.map(key => list(key, a, b)) : []
  const notes = (p: Passage | undefined): string => (p?.notes ? `${p.notes.length}` : '')
  return [...all, ...lists, { label: 'notes read from the part', was: notes(a), now: notes(b) }].filter(
    d => d.was !== d.now,
  )
}
