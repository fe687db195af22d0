import { printable, sentence } from '../../music/result.ts'
import { type EditAround, type Edits, editPiece, type Where } from '../../repertoire/edit.ts'
import { type EditField, PASSAGE_EDITS, PIECE_EDITS, SECTION_EDITS } from '../../repertoire/edit-fields.ts'
import { KINDS, LISTS, type Line, type ListKey, linesOf } from '../../repertoire/entries.ts'
import type { Passage, Piece } from '../../repertoire/piece.ts'
import { editLine, type LineAction } from '../line.ts'

/** A line of the form: a field, or one entry of a list. */
export type Row = {
  /** Key of a field, or the list to which it belongs. */
  readonly key: string
  readonly list?: ListKey
  /** Where it stood in its list before; absent = new. */
  readonly of?: number
  readonly text: string
  readonly was: string
  /** Was left since: it is checked from then on. */
  readonly left: boolean
}

export type Form = {
  readonly piece: Piece
  readonly where: Where
  readonly rows: readonly Row[]
  /** Index of the row in hand, and the place in its text where typing goes, in characters. */
  readonly at: number
  readonly cursor: number
}

export type FormAction = LineAction | { readonly k: 'row'; readonly by: number }

/** Rows of a passage in the order of its fields; each list stands behind the field to which it belongs. */
const BEHIND: Readonly<Record<string, ListKey>> = {
  meter: 'changes',
  start: 'tempos',
  run: 'rhythms',
  ends: 'breaths',
  rests: 'rehearsals',
  note: 'sections',
}

const LONGEST = 400

const fieldRow = (key: string, text: string): Row => {
  const shown = printable(text)
  return { key, text: shown, was: shown, left: false }
}
const blank = (list: ListKey): Row => ({ key: list, list, text: '', was: '', left: false })

const passageRows = (p: Passage): readonly Row[] =>
  PASSAGE_EDITS.flatMap(f => {
    const list = BEHIND[f.key]
    const entries = list
      ? [...linesOf(list, p).map(l => ({ ...blank(list), ...l, was: l.text })), blank(list)]
      : []
    return [fieldRow(f.key, f.get(p)), ...entries]
  })

const rowsOf = <T>(fields: readonly EditField<T>[], t: T): readonly Row[] =>
  fields.map(f => fieldRow(f.key, f.get(t)))

export const newForm = (piece: Piece, where: Where): Form => {
  const passage = piece.passages.find(p => p.id === where.passage)
  const section = passage?.sections?.find(s => s.id === where.section)
  const rows = section
    ? rowsOf(SECTION_EDITS, section)
    : passage
      ? passageRows(passage)
      : rowsOf(PIECE_EDITS, piece)
  return { piece, where, rows, at: 0, cursor: [...(rows[0]?.text ?? '')].length }
}

const fieldsOf = (w: Where): readonly { key: string; label: string; hint: string }[] =>
  w.section ? SECTION_EDITS : w.passage ? PASSAGE_EDITS : PIECE_EDITS

const rowInHand = (f: Form): Row => f.rows[f.at] as Row

const filled = (r: Row): boolean => r.text.trim() !== ''

/** What a row is called: of an entry "breath 2", counting those that are not empty. */
export const labelOf = (f: Form, index: number): string => {
  const row = f.rows[index]
  if (!row?.list) return fieldsOf(f.where).find(x => x.key === row?.key)?.label ?? ''
  const { label } = KINDS[row.list]
  const before = f.rows.slice(0, index).filter(r => r.list === row.list && filled(r))
  return filled(row) ? `${label} ${before.length + 1}` : label
}

export const hintOf = (f: Form): string => {
  const row = rowInHand(f)
  const hint = row.list ? LIST_HINTS[row.list] : fieldsOf(f.where).find(x => x.key === row.key)?.hint
  return `${hint ?? ''}${row.of === undefined ? '' : ' Empty: it is taken out.'}`
}

const LIST_HINTS: { readonly [K in ListKey]: string } = {
  rehearsals: 'A rehearsal mark as printed: 43=C.',
  changes: 'Another meter from a measure on: 43=3/4.',
  tempos: 'Another tempo from a place on: 43=half=66; from a place evenly to the next tempo: 43.3=72 ramp.',
  breaths:
    '42.4 is a breath; or 43 slow below=96, 44 caesura adds=half, 44 fermata waits, bow, turn, mute, instrument, look; last word=a word of yours.',
  rhythms: 'An altered rhythm to practice it in, by name or ratios: long-short, or 3:1.',
  sections: 'Its name and its two places: 2=43 to 44.2.',
}

/** New entries that were emptied are gone; below the others of each list one empty row waits. */
const tidied = (f: Form): Form => {
  const at = rowInHand(f)
  const rows: Row[] = []
  for (const [i, row] of f.rows.entries()) {
    const last = row.list !== undefined && f.rows[i + 1]?.list !== row.list
    if (row.list === undefined || row.of !== undefined || filled(row) || row === at || last) rows.push(row)
    if (row.list !== undefined && last && (filled(row) || row.of !== undefined)) rows.push(blank(row.list))
  }
  return { ...f, rows, at: rows.indexOf(at) }
}

/** Another row in hand; the one before is checked from now on. */
export const goTo = (f: Form, index: number): Form => {
  const to = f.rows[Math.max(0, Math.min(f.rows.length - 1, index))]
  const here = rowInHand(f)
  if (!to || to === here) return f
  const left = { ...here, left: true }
  const rows = f.rows.map(r => (r === here ? left : r))
  return tidied({ ...f, rows, at: rows.indexOf(to), cursor: [...to.text].length })
}

export const editForm = (f: Form, a: FormAction): Form => {
  if (a.k === 'row') {
    // The empty row below a new entry comes first.
    const now = tidied(f)
    return goTo(now, now.at + a.by)
  }
  const row = rowInHand(f)
  const line = editLine({ text: row.text, cursor: f.cursor }, a, LONGEST)
  return { ...f, rows: f.rows.with(f.at, { ...row, text: line.text }), cursor: line.cursor }
}

const changed = (r: Row): boolean => r.text.trim() !== r.was

/** What was typed; what was not touched is not in it. */
export const editsOf = (f: Form): Edits => {
  const fields = Object.fromEntries(
    f.rows.filter(r => !r.list && changed(r)).map(r => [r.key, r.text.trim()]),
  )
  const passage = f.piece.passages.find(p => p.id === f.where.passage)
  const lists: { [K in ListKey]?: readonly Line[] } = {}
  for (const list of LISTS) {
    const lines = f.rows
      .filter(r => r.list === list && filled(r))
      .map(r => ({ text: r.text.trim(), ...(r.of === undefined ? {} : { of: r.of }) }))
    const before = passage && !f.where.section ? linesOf(list, passage) : []
    const same = lines.length === before.length && lines.every((l, i) => l.text === before[i]?.text)
    if (!same) lists[list] = lines
  }
  return { fields, lists }
}

/** Whether anything was typed that is not stored. */
export const isChanged = (f: Form): boolean => {
  const { fields, lists } = editsOf(f)
  return Object.keys(fields).length + Object.keys(lists).length > 0
}

/** What a form is checked against. */
export type Around = Omit<EditAround, 'newId'>

/** The sentence about what is wrong, and its row where it has one. */
export type Wrong = { readonly row: number | null; readonly says: string }

/** The first thing that is wrong with what was typed in rows that were left (or in all); null = nothing. */
export const wrong = (f: Form, around: Around, all = false): Wrong | null => {
  const seen = all ? f : { ...f, rows: f.rows.map(r => (r.left ? r : { ...r, text: r.was })) }
  let ids = 10_000
  const read = editPiece(f.piece, f.where, editsOf(seen), { ...around, newId: () => `new${ids++}` })
  if (read.ok) return null
  const head = read.problem.field.split(', ')[0]
  const row = seen.rows.findIndex((_, i) => labelOf(seen, i) === head)
  return { row: row < 0 ? null : row, says: sentence(read.problem) }
}

/** What was typed and is not stored, in words: "goal tempo 132; breath 2 43 slow below=96". */
export const unsaved = (f: Form): string =>
  f.rows.flatMap((r, i) => (changed(r) ? [`${labelOf(f, i)} ${r.text.trim() || 'none'}`] : [])).join('; ')
