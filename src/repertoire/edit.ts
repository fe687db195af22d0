import { opening } from '../ladder/start.ts'
import { compare, equal, type Frac, fractionText, less, zero } from '../music/fraction.ts'
import { parsePlace, placeAt } from '../music/place.ts'
import { attempt, type Need, problem, type Result } from '../music/result.ts'
import { type ListLine, linesOf, readLines, withPlacesFiled } from './change-list.ts'
import { feltIn, setFields, type Table, type Texts, textIn } from './field.ts'
import { PASSAGE, PIECE, SECTION, TABLES } from './fields.ts'
import type { Sources, Today } from './kinds.ts'
import { ladderOf } from './ladder-of.ts'
import { type Entry, KINDS, LISTS, type ListKey, textOf } from './lists.ts'
import type { Passage, Piece } from './passage.ts'
import { type PassageForm, passageForm, passageNotes } from './passage-form.ts'
import { checkPiece, isOpen } from './piece.ts'

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

/** A problem's "passage 2, breath 1, at" in the player's words: "breath 1, at"; within a section without that section too. */
const inWords = <T>(r: Result<T>, w: Where): Result<T> => {
  if (r.ok) return r
  const inside = r.problem.field.replace(/^passage \d+, /, '')
  const [head = '', ...rest] = (w.section ? inside.replace(/^section \d+, /, '') : inside).split(', ')
  const field = [LABELS.get(head) ?? head.replace(/^number \d+$/, 'numbers'), ...rest].join(', ')
  return { ok: false, problem: { ...r.problem, field } }
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
const completed = (p: Passage, need: Need): Passage => {
  const typed = p.tempos ?? []
  if (typed.length === 0) return p
  const frame = need(inWords(bare(p), {}))
  for (const [i, t] of typed.entries()) need(parsePlace(t.at, frame, `tempo ${i + 1}, at`))
  const at = (t: Tempo): Frac => placed(frame, t.at)
  const first: Tempo = { at: placeAt(zero, frame), tempo: p.goal }
  const tempos = [...typed, ...(typed.some(t => equal(at(t), zero)) ? [] : [first])]
  const order = [...tempos.keys()].sort((a, b) => compare(at(tempos[a] as Tempo), at(tempos[b] as Tempo)))
  for (const [k, i] of order.entries()) {
    const [before, t] = [tempos[order[k - 1] ?? -1], tempos[i] as Tempo]
    const no = (accepted: string) => need(problem(`tempo ${i + 1}`, textOf('tempos', t, feltIn(p)), accepted))
    if (t.ramp && k === order.length - 1) no('a ramp with another tempo after it')
    if (t.tempo !== '') continue
    if (before?.ramp) no('a tempo with it, like 43.3=72 ramp, since the music already slides there')
    tempos[i] = { ...t, tempo: before?.tempo ?? p.goal }
  }
  return { ...p, tempos }
}

const PLACED = ['rehearsals', 'changes', 'tempos', 'breaths'] as const

/** Refuses a rehearsal mark that stands nowhere in the music, and the second of two entries at one place (two breaths of one kind). */
const refuseOdd = (p: Passage, whole: PassageForm, need: Need): void => {
  for (const [i, r] of (p.rehearsals ?? []).entries())
    need(parsePlace(r.at, whole, `${KINDS.rehearsals.label} ${i + 1}, at`))
  for (const key of PLACED) {
    const seen = new Set<string>()
    for (const [i, e] of (p[key] ?? []).entries()) {
      const spot = `${fractionText(placed(whole, e.at))} ${'kind' in e ? KINDS.breaths.sort?.(e) : ''}`
      const text = textOf<ListKey>(key, e, feltIn(p))
      if (seen.has(spot)) need(problem(`${KINDS[key].label} ${i + 1}`, text, `one at each place`))
      seen.add(spot)
    }
  }
}

/** In the order of the music. */
const inOrder = (p: Passage, whole: PassageForm): Passage => {
  const sorted = PLACED.flatMap(key => {
    const list: readonly { readonly at: string }[] | undefined = p[key]
    return list ? [[key, list.toSorted((a, b) => compare(placed(whole, a.at), placed(whole, b.at)))]] : []
  })
  return { ...p, ...Object.fromEntries(sorted) }
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

const editPassage = (before: Passage, e: Edits, a: EditAround, need: Need): Passage => {
  let now = need(setFields(PASSAGE, before, e.fields, a))
  for (const key of LISTS) {
    const lines = e.lists[key]
    if (!lines) continue
    const read = need(readLines(key, lines, before, { ...a, felt: feltIn(now) }))
    const { [key]: _, ...rest } = now
    now = read.length > 0 ? { ...rest, [key]: read } : rest
  }
  return completed(filed(now), need)
}

/** Every place in the one form of the files. */
const filed = (p: Passage): Passage => {
  const lists = LISTS.flatMap(key => (p[key] ? [[key, p[key].map(e => withPlacesFiled(p, e))]] : []))
  return { ...withPlacesFiled(p, p), ...Object.fromEntries(lists) }
}

/** After everything is known to fit: the order, and that there is a ladder. */
const finished = (before: Passage, p: Passage, typed: Texts, need: Need): Passage => {
  const whole = need(passageForm(p))
  const { start, goal, step, direction } = ladderOf(p)
  // A goal that falls below the start is no wish for a ladder that leads down: that is said by its start.
  if (direction === 'down' && typed.start === undefined && ladderOf(before).direction === 'up')
    need(problem(PASSAGE.start.label, p.start ?? '', `a start at or below the goal ${p.goal}, or none`))
  need(opening(start, goal, step, null, direction))
  refuseOdd(p, whole, need)
  return withNotes(before, inOrder(p, whole), whole)
}

const changed = (piece: Piece, w: Where, e: Edits, a: EditAround, need: Need): Piece => {
  if (w.passage === undefined) return need(setFields(PIECE, piece, e.fields, a))
  const edited = (p: Passage): Passage => {
    if (w.section === undefined) return editPassage(p, e, a, need)
    const sections = p.sections?.map(s =>
      withPlacesFiled(p, s.id === w.section ? need(setFields(SECTION, s, e.fields, a)) : s),
    )
    return { ...p, sections: sections ?? [] }
  }
  return { ...piece, passages: piece.passages.map(p => (p.id === w.passage ? edited(p) : p)) }
}

/** The piece as edited, or the first field that is wrong, in the player's words. Ids stay; see same-music.ts. */
export const editPiece = (piece: Piece, w: Where, e: Edits, a: EditAround): Result<Piece> =>
  attempt(need => {
    const read = need(inWords(checkPiece(changed(piece, w, e, a, need)), w))
    const finish = (before: Passage, p: Passage) => attempt(inner => finished(before, p, e.fields, inner))
    const passages = read.passages.map((p, i) => {
      const before = piece.passages[i]
      return before && p.id === w.passage ? need(inWords(finish(before, p), w)) : p
    })
    // Whoever types the goal of the only passage has closed an open one.
    const [one, ...more] = passages
    const closed = isOpen(read) && more.length === 0 && one?.goal !== piece.passages[0]?.goal
    return { ...read, ...(closed && isOpen(piece) && { sure: 'guess' }), passages }
  })

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
