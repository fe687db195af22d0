import type { Where } from './edit.ts'
import { type EditField, PASSAGE_EDITS, PIECE_EDITS, SECTION_EDITS } from './edit-fields.ts'
import { LISTS, type ListKey, linesOf } from './entries.ts'
import type { Passage, Piece } from './piece.ts'

/** One field before and after, as it is typed; an empty text = none. */
export type Difference = { readonly label: string; readonly was: string; readonly now: string }

const LIST_LABELS: { readonly [K in ListKey]: string } = {
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

const listText = (key: ListKey, p: Passage): string =>
  linesOf(key, p)
    .map(l => l.text)
    .join('; ')

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
  const lists =
    a && b && w.section === undefined
      ? LISTS.map(key => ({ label: LIST_LABELS[key], was: listText(key, a), now: listText(key, b) }))
      : []
  const notes = (p: Passage | undefined): string => (p?.notes ? `${p.notes.length}` : '')
  return [...all, ...lists, { label: 'notes read from the part', was: notes(a), now: notes(b) }].filter(
    d => d.was !== d.now,
  )
}
