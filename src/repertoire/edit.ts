import { opening } from '../ladder/start.ts'
import { compare, equal, type Frac, fractionText, less, zero } from '../music/fraction.ts'
import { parsePlace, placeAt } from '../music/place.ts'
import { ok, problem, type Result } from '../music/result.ts'
import { type ListLine, readLines } from './change-list.ts'
import type { Sources } from './entry.ts'
import { PASSAGE, PIECE, SECTION, TABLES } from './fields.ts'
import type { Today } from './kinds.ts'
import { ladderOf } from './ladder-of.ts'
import { type Entry, KINDS, LISTS, type ListKey, type Section, textOf } from './lists.ts'
import type { Passage, Piece } from './passage.ts'
import { type PassageForm, passageForm, passageNotes } from './passage-form.ts'
import { checkPiece, isOpen } from './piece.ts'
import { feltIn, setFields, type Texts } from './set-fields.ts'
import { withPlacesFiled } from './shown-places.ts'

type Tempo = Entry<'tempos'>

/** What is edited: a piece, a passage or a section, by ids. */
export type Where = { readonly passage?: string; readonly section?: string }

/** What was typed: some fields by their keys, and whole lists of a passage, line by line. */
export type Edits = {
  readonly fields: Texts
  readonly lists: { readonly [K in ListKey]?: readonly ListLine[] }
}

export type EditAround = Today & Sources

/** Every name by which a piece's check may call a field, and what the player calls it. */
const LABELS: ReadonlyMap<string, string> = new Map(
  Object.values(TABLES).flatMap(table =>
    Object.entries(table).map(([key, { label }]) => [key, label] as const),
  ),
)

/** "passage 2, breath 1, at" in the player's words: "breath 1, at"; within a section without that section too. */
const inWords = (field: string, w: Where): string => {
  const inside = field.replace(/^passage \d+, /, '')
  const [head = '', ...rest] = (w.section ? inside.replace(/^section \d+, /, '') : inside).split(', ')
  return [LABELS.get(head) ?? head.replace(/^number \d+$/, 'numbers'), ...rest].join(', ')
}

const placed = (whole: PassageForm, at: string): Frac => {
  const read = parsePlace(at, whole)
  return read.ok ? read.value : zero
}

/** The passage without what stands at places: so that places can be read before these lists are right. */
const bare = (p: Passage): Result<PassageForm> => {
  const { tempos: _, breaths: __, sections: ___, ...rest } = p
  return passageForm(rest)
}

/**
 * Tempos from the first note on, the goal first where none stands there; a ramp without a tempo of its own begins with
 * the one that runs there.
 */
const completed = (p: Passage): Result<Passage> => {
  const frame = bare(p)
  const typed = p.tempos ?? []
  if (typed.length === 0) return ok(p)
  if (!frame.ok) return { ok: false, problem: { ...frame.problem, field: inWords(frame.problem.field, {}) } }
  for (const [i, t] of typed.entries()) {
    const read = parsePlace(t.at, frame.value, `tempo ${i + 1}, at`)
    if (!read.ok) return read
  }
  const at = (t: Tempo): Frac => placed(frame.value, t.at)
  const first: Tempo = { at: placeAt(zero, frame.value), tempo: p.goal }
  const tempos = [...typed, ...(typed.some(t => equal(at(t), zero)) ? [] : [first])]
  const order = [...tempos.keys()].sort((a, b) => compare(at(tempos[a] as Tempo), at(tempos[b] as Tempo)))
  for (const [k, i] of order.entries()) {
    const [before, t] = [tempos[order[k - 1] ?? -1], tempos[i] as Tempo]
    const no = (accepted: string) => problem(`tempo ${i + 1}`, textOf('tempos', t, feltIn(p)), accepted)
    if (t.ramp && k === order.length - 1) return no('a ramp with another tempo after it')
    if (t.tempo !== '') continue
    if (before?.ramp) return no('a tempo with it, like 43.3=72 ramp, since the music already slides there')
    tempos[i] = { ...t, tempo: before?.tempo ?? p.goal }
  }
  return ok({ ...p, tempos })
}

const PLACED = ['rehearsals', 'changes', 'tempos', 'breaths'] as const

/** The first rehearsal mark that stands nowhere in the music; of two entries at one place (two breaths of one kind) the second. */
const standing = (p: Passage, whole: PassageForm): Result<Passage> => {
  for (const [i, r] of (p.rehearsals ?? []).entries()) {
    const read = parsePlace(r.at, whole, `${KINDS.rehearsals.label} ${i + 1}, at`)
    if (!read.ok) return read
  }
  for (const key of PLACED) {
    const seen = new Set<string>()
    for (const [i, e] of (p[key] ?? []).entries()) {
      const spot = `${fractionText(placed(whole, e.at))} ${'kind' in e ? KINDS.breaths.sort?.(e) : ''}`
      if (seen.has(spot))
        return problem(
          `${KINDS[key].label} ${i + 1}`,
          textOf<ListKey>(key, e, feltIn(p)),
          `one at each place`,
        )
      seen.add(spot)
    }
  }
  return ok(p)
}

/** In the order of the music. */
const inOrder = (p: Passage, whole: PassageForm): Passage => {
  const sorted = <E extends { readonly at: string }>(all: readonly E[]): readonly E[] =>
    [...all].sort((a, b) => compare(placed(whole, a.at), placed(whole, b.at)))
  return {
    ...p,
    ...(p.rehearsals ? { rehearsals: sorted(p.rehearsals) } : {}),
    ...(p.changes ? { changes: sorted(p.changes) } : {}),
    ...(p.tempos ? { tempos: sorted(p.tempos) } : {}),
    ...(p.breaths ? { breaths: sorted(p.breaths) } : {}),
  }
}

/** Notes that were read from a part count from the first note: they stay while that is the same, as far as the music goes. */
const withNotes = (before: Passage, after: Passage, whole: PassageForm): Passage => {
  const { notes, ...rest } = after
  if (!notes) return after
  const old = passageForm(before)
  const same =
    old.ok &&
    placeAt(zero, old.value) === placeAt(zero, whole) &&
    equal(old.value.form.pickup, whole.form.pickup)
  const fits = (line: string): boolean =>
    passageNotes({ ...after, notes: [line] }).every(n => less(n.at, whole.form.length))
  const kept = same ? notes.filter(fits) : []
  return kept.length > 0 ? { ...rest, notes: kept } : rest
}

const editPassage = (before: Passage, e: Edits, a: EditAround): Result<Passage> => {
  const fields = setFields(PASSAGE, before, e.fields, a)
  if (!fields.ok) return fields
  let now = fields.value
  for (const key of LISTS) {
    const lines = e.lists[key]
    if (!lines) continue
    const read = readLines(key, lines, before, { ...a, felt: feltIn(now) })
    if (!read.ok) return read
    const { [key]: _, ...rest } = now
    now = read.value.length > 0 ? { ...rest, [key]: read.value } : rest
  }
  return completed(filed(now))
}

/** Every place in the one form of the files. */
const filed = (p: Passage): Passage => {
  const of = p
  let now = withPlacesFiled(of, p)
  for (const key of LISTS) {
    const list = now[key]
    if (list) now = { ...now, [key]: (list as readonly unknown[]).map(e => withPlacesFiled(of, e)) }
  }
  return now
}

/** After everything is known to fit: the order, and that there is a ladder. */
const finished = (before: Passage, p: Passage, typed: Texts): Result<Passage> => {
  const whole = passageForm(p)
  if (!whole.ok) return whole
  const { start, goal, step, direction } = ladderOf(p)
  // A goal that falls below the start is no wish for a ladder that leads down: that is said by its start.
  if (direction === 'down' && typed.start === undefined && ladderOf(before).direction === 'up')
    return problem(PASSAGE.start.label, p.start ?? '', `a start at or below the goal ${p.goal}, or none`)
  const ladder = opening(start, goal, step, null, direction)
  if (!ladder.ok) return ladder
  const once = standing(p, whole.value)
  return once.ok ? ok(withNotes(before, inOrder(p, whole.value), whole.value)) : once
}

const changed = (piece: Piece, w: Where, e: Edits, a: EditAround): Result<Piece> => {
  if (w.passage === undefined) return setFields(PIECE, piece, e.fields, a)
  const passages: Passage[] = []
  for (const p of piece.passages) {
    const edited =
      p.id !== w.passage
        ? ok(p)
        : w.section === undefined
          ? editPassage(p, e, a)
          : editSection(p, w.section, e, a)
    if (!edited.ok) return edited
    passages.push(edited.value)
  }
  return ok({ ...piece, passages })
}

const editSection = (p: Passage, id: string, e: Edits, a: EditAround): Result<Passage> => {
  const sections: Section[] = []
  for (const s of p.sections ?? []) {
    const edited = s.id === id ? setFields(SECTION, s, e.fields, a) : ok(s)
    if (!edited.ok) return edited
    sections.push(withPlacesFiled(p, edited.value))
  }
  return ok({ ...p, sections })
}

/** The piece as edited, or the first field that is wrong, in the player's words. Ids stay; see same-music.ts. */
export const editPiece = (piece: Piece, w: Where, e: Edits, a: EditAround): Result<Piece> => {
  const said = <T>(r: Result<T>): Result<T> =>
    r.ok ? r : { ok: false, problem: { ...r.problem, field: inWords(r.problem.field, w) } }
  const edited = changed(piece, w, e, a)
  if (!edited.ok) return edited
  const read = checkPiece(edited.value)
  if (!read.ok) return said(read)
  const passages: Passage[] = []
  for (const [i, p] of read.value.passages.entries()) {
    const before = piece.passages[i]
    const done = before && p.id === w.passage ? finished(before, p, e.fields) : ok(p)
    if (!done.ok) return said(done)
    passages.push(done.value)
  }
  // Whoever types the goal of the only passage has closed an open one.
  const [one, ...more] = passages
  const closed = isOpen(read.value) && more.length === 0 && one?.goal !== piece.passages[0]?.goal
  return ok({ ...read.value, ...(closed && isOpen(piece) ? { sure: 'guess' } : {}), passages })
}
