import { equal, type Frac } from '../../music/fraction.ts'
import { QUARTER } from '../../music/note-value.ts'
import { printable, type Result, sentence } from '../../music/result.ts'
import { compareTempo, parseTempo, splitGoal } from '../../music/tempo.ts'
import { type ListLine, linesOf, withPlacesShown } from '../../repertoire/change-list.ts'
import { type EditAround, type Edits, editPiece, type Where } from '../../repertoire/edit.ts'
import { type Field, feltIn, type Table, textIn } from '../../repertoire/field.ts'
import { ASKED, PASSAGE, PIECE, range, TABLES } from '../../repertoire/fields.ts'
import type { EntryKind } from '../../repertoire/kinds.ts'
import { type Entry, KINDS, LISTS, type ListKey } from '../../repertoire/lists.ts'
import { newPassage, piecesCalled } from '../../repertoire/new-passage.ts'
import type { Passage, Piece } from '../../repertoire/piece.ts'
import { editLine, type LineAction } from '../line.ts'
import { MEASURES_HINT, titleHint } from './words.ts'

/** A line of the form: a field, or one entry of a list. */
export type FormRow = {
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

/** What is filled in: a piece, a passage or a section that is there, or a passage that is new. */
export type Form = {
  readonly piece: Piece | null
  readonly where: Where
  readonly rows: readonly FormRow[]
  /** Index of the row in hand, and the place in its text where typing goes, in characters. */
  readonly at: number
  readonly cursor: number
}

export type FormAction = LineAction | { readonly kind: 'row'; readonly by: number }

/** What a form is checked against. */
export type Around = { readonly today: string } & Partial<Pick<EditAround, 'isRhythm'>> & {
    readonly pieces?: readonly Piece[]
  }

const LONGEST = 400

const fieldRow = (key: string, text: string): FormRow => {
  const shown = printable(text)
  return { key, text: shown, was: shown, left: false }
}
const blank = (list: ListKey): FormRow => ({ key: list, list, text: '', was: '', left: false })

/** Rows in the order of the fields; each list of a passage stands behind the field to which it belongs. */
const rowsOf = (table: Table, of: object, lists: Passage | null): readonly FormRow[] =>
  Object.entries(table).flatMap(([key, f]) => {
    const list = lists && LISTS.find(l => KINDS[l].behind === key)
    const entries = list
      ? [...linesOf(list, lists).map(l => ({ ...blank(list), ...l, was: l.text })), blank(list)]
      : []
    return [fieldRow(key, textIn(of, key, f)), ...entries]
  })

const begun = (piece: Piece | null, where: Where, rows: readonly FormRow[]): Form => ({
  piece,
  where,
  rows,
  at: 0,
  cursor: [...(rows[0]?.text ?? '')].length,
})

/** The form of what is there. */
export const editedForm = (piece: Piece, where: Where): Form => {
  const passage = piece.passages.find(p => p.id === where.passage)
  const section = passage?.sections?.find(s => s.id === where.section)
  const lists = passage && !section ? passage : null
  const shown = passage ? withPlacesShown(passage, section ?? passage) : piece
  return begun(piece, where, rowsOf(TABLES[levelOf(where)], shown, lists))
}

/** The form of a new passage: the title of its piece, and what is asked of it; or only some of these fields. */
export const newForm = (keys: readonly string[] = ASKED): Form =>
  begun(
    null,
    {},
    keys.map(key => fieldRow(key, '')),
  )

const levelOf = (w: Where): keyof typeof TABLES => (w.section ? 'section' : w.passage ? 'passage' : 'piece')

const fieldOf = (key: string): Field<unknown> | undefined => (({ ...PIECE, ...PASSAGE }) as Table)[key]

const fieldIn = (f: Form, key: string): Field<unknown> | undefined =>
  f.piece ? (TABLES[levelOf(f.where)] as Table)[key] : fieldOf(key)

export const textOf = (f: Form, key: string): string => f.rows.find(r => r.key === key)?.text ?? ''

const rowInHand = (f: Form): FormRow => f.rows[f.at] as FormRow

const filled = (r: FormRow): boolean => r.text.trim() !== ''

/** What a row is called: of an entry "breath 2", counting those that are not empty. */
export const labelOf = (f: Form, index: number): string => {
  const row = f.rows[index]
  if (!row?.list) return fieldIn(f, row?.key ?? '')?.label ?? ''
  const { label } = KINDS[row.list]
  const before = f.rows.slice(0, index).filter(r => r.list === row.list && filled(r))
  return filled(row) ? `${label} ${before.length + 1}` : label
}

export const hintOf = (f: Form): string => {
  const row = rowInHand(f)
  if (row.list) return KINDS[row.list].hint + (row.of === undefined ? '' : ' Leave it empty to take it out.')
  const field = fieldIn(f, row.key)
  if (f.piece) return `${field?.hint}${field?.missing === undefined ? ' Empty: none.' : ''}`
  if (row.key === 'title') return titleHint(field?.hint)
  if (row.key === 'measures') return MEASURES_HINT
  return `${field?.hint}${field?.empty ? ` Empty: ${field.empty}.` : ''}`
}

/** New entries that were emptied are gone; below the others of each list one empty row waits. */
const tidied = (f: Form): Form => {
  const at = rowInHand(f)
  const rows: FormRow[] = []
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
  if (a.kind === 'row') {
    // The empty row below a new entry comes first.
    const now = tidied(f)
    return goTo(now, now.at + a.by)
  }
  const row = rowInHand(f)
  const line = editLine({ text: row.text, cursor: f.cursor }, a, LONGEST)
  return { ...f, rows: f.rows.with(f.at, { ...row, text: line.text }), cursor: line.cursor }
}

export const changed = (r: FormRow): boolean => r.text.trim() !== r.was

/** What was typed; what was not touched is not in it. Of a new passage also what was left empty. */
export const editsOf = (f: Form): Edits => {
  const fields = Object.fromEntries(
    f.rows
      .filter(r => !r.list && (changed(r) || (!f.piece && r.left)))
      // A new passage is as long as its place says, or so many measures.
      .map(r => [!f.piece && r.key === 'measures' && onlyCount(r.text) ? 'count' : r.key, r.text.trim()]),
  )
  const passage = f.piece?.passages.find(p => p.id === f.where.passage)
  const lists: { [K in ListKey]?: readonly ListLine[] } = {}
  for (const list of f.piece ? LISTS : []) {
    const lines = f.rows
      .filter(r => r.list === list && filled(r))
      .map(r => ({ text: r.text.trim(), ...(r.of === undefined ? {} : { of: r.of }) }))
    const before = passage && !f.where.section ? linesOf(list, passage) : []
    const same = lines.length === before.length && lines.every((l, i) => l.text === before[i]?.text)
    if (!same) lists[list] = lines
  }
  return { fields, lists }
}

const onlyCount = (text: string): boolean => /^\s*\d+\s*$/.test(text)

/** Whether anything was typed that is not stored. */
export const isChanged = (f: Form): boolean => {
  const { fields, lists } = editsOf(f)
  return Object.keys(fields).length + Object.keys(lists).length > 0
}

/** The sentence about what is wrong, and its row where it has one. */
export type Wrong = { readonly row: number | null; readonly says: string }

const read = (f: Form, around: Around, all: boolean): Result<unknown> => {
  let ids = 10_000
  const from = { today: around.today, isRhythm: around.isRhythm ?? (() => false), newId: () => `new${ids++}` }
  if (f.piece) return editPiece(f.piece, f.where, editsOf(f), from)
  const quick = !f.rows.some(r => r.key === 'title')
  return newPassage(editsOf(f), { ...from, pieces: around.pieces ?? [] }, 'new00000', all && !quick)
}

/** The first thing that is wrong with what was typed in rows that were left (or in all); null = nothing. */
export const wrong = (f: Form, around: Around, all = false): Wrong | null => {
  const seen = {
    ...f,
    rows: f.rows.map(r => (all ? { ...r, left: true } : r.left ? r : { ...r, text: r.was })),
  }
  const found = read(seen, around, all)
  if (found.ok) return null
  const [head = ''] = found.problem.field.split(', ')
  const rowOf = (label: string): number => seen.rows.findIndex((_, i) => labelOf(seen, i) === label)
  // Of a new passage place and number of measures are one line.
  const row = Math.max(rowOf(head), head === PASSAGE.count.label ? rowOf(PASSAGE.measures.label) : -1)
  return { row: row < 0 ? null : row, says: sentence(found.problem) }
}

/** All rows left, and the first wrong one in hand; null = nothing is wrong. */
export const firstWrong = (
  f: Form,
  around: Around,
): { readonly form: Form; readonly says: string } | null => {
  const look = wrong(f, around, true)
  if (!look) return null
  const form = { ...f, rows: f.rows.map(r => ({ ...r, left: true })) }
  return look.row === null ? { form, says: look.says } : { form: goTo(form, look.row), says: '' }
}

/** The beat that is felt in the meter that is typed. */
const feltOf = (f: Form): Frac => feltIn({ meter: textOf(f, 'meter') || '4/4' })

const entrySaid = <K extends ListKey>(list: K, text: string, felt: Frac): string => {
  const kind: EntryKind<Entry<K>> = KINDS[list]
  const read =
    kind.says && kind.read(text, kind.label, { newId: () => '', isRhythm: () => false, felt }, undefined)
  return read?.ok ? (kind.says?.(read.value) ?? '') : ''
}

/** What was understood by a row, said beside it; empty where there is nothing to add. */
export const understood = (f: Form, index: number, around: Around): string => {
  const row = f.rows[index]
  if (row?.list) return filled(row) ? entrySaid(row.list, row.text.trim(), feltOf(f)) : ''
  const field = row && fieldIn(f, row.key)
  if (!row || !field) return ''
  const text = row.text.trim()
  if (row.key === 'title' && !f.piece)
    return text !== '' && piecesCalled(text, around.pieces ?? []).length > 0
      ? 'you have it: one more passage'
      : ''
  if (row.key === 'measures' && !f.piece) {
    const found = range(text)
    const count = !found ? 0 : onlyCount(text) ? Number(text) : found.last - found.first + 1
    return count < 1 ? '' : count === 1 ? '1 measure' : `${count} measures`
  }
  if (text === '' || text.toLowerCase() === 'none') return f.piece ? '' : (field.empty ?? '')
  const felt = feltOf(f)
  const value = field.kind.read(text, field.label, { ...around, felt })
  const said = value.ok ? (field.kind.says?.(value.value, around) ?? '') : ''
  const leads = row.key === 'start' && said !== '' && leadsDown(text, textOf(f, 'goal'), felt)
  // A plain number is the beat that is felt: what to type for the other.
  const other =
    equal(felt, QUARTER) || !TEMPOS.includes(row.key) || !/^[\d.]+$/.test(text) ? '' : ` (or quarter=${text})`
  return leads ? `${said}, leading down` : said && said + other
}

/** Fields in which a plain number is a tempo. */
const TEMPOS = ['goal', 'goalTop', 'start']

const leadsDown = (start: string, goal: string, felt: Frac): boolean => {
  const [from, to] = [parseTempo(start, 'start', felt), parseTempo(splitGoal(goal).goal, 'goal', felt)]
  return from.ok && to.ok && compareTempo(from.value, to.value) > 0
}

/** What was typed and is not stored, in words: "goal tempo 132; breath 2 43 slow below=96". */
export const unsaved = (f: Form): string =>
  f.rows.flatMap((r, i) => (changed(r) ? [`${labelOf(f, i)} ${r.text.trim() || 'none'}`] : [])).join('; ')
