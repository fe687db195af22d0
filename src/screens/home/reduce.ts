import { sectionKey } from '../../ladder/key.ts'
import { compareTempo } from '../../music/tempo.ts'
import type { Edits } from '../../repertoire/edit.ts'
import type { Piece } from '../../repertoire/piece.ts'
import { stepped } from '../choosing.ts'
import {
  type Around,
  editForm,
  editsOf,
  type Form,
  type FormAction,
  firstWrong,
  newForm,
  textOf,
} from '../form/form.ts'
import type { Subject } from '../note/note.ts'
import { type LadderRow, nearestFirst, type PassageRow } from './row.ts'
import { ALREADY_CUT, ANSWERS, type Answer, type CutBy, NOT_READY, type WayOut } from './words.ts'

/**
 * What lies on the screen: the repertoire, the sections of the chosen passage, how it is to be cut into them, the question
 * of the first start, or one of the two forms.
 */
export type View = 'list' | 'sections' | 'cut' | 'question' | 'piece' | 'quick'

export type State = {
  readonly view: View
  readonly rows: readonly PassageRow[]
  readonly around: Listing['around']
  /** Index of the chosen row, and of the chosen answer to the question. */
  readonly chosen: number
  readonly answer: number
  /** Index into the lines of the sections: each section, the whole passage, and the way back. */
  readonly part: number
  /** The cautions stand below the first screen, once. */
  readonly cautions: boolean
  readonly piece: Form
  readonly quick: Form
  /** Being stored: nothing else is taken meanwhile. */
  readonly busy: boolean
  /** One sentence about what has just happened, or empty. */
  readonly note: string
}

/** What the player goes on to. */
export type Destination =
  | { readonly kind: 'leave' }
  | { readonly kind: 'demo' }
  /** A part from a score; `path` of a file that was dropped, or empty. */
  | { readonly kind: 'import'; readonly path: string }
  | { readonly kind: 'day' }
  | { readonly kind: 'practice'; readonly row: LadderRow }
  /** Neighbors of this passage that are ready: their seam, then both as one. */
  | { readonly kind: 'join'; readonly row: PassageRow }
  | { readonly kind: 'edit'; readonly row: LadderRow }
  /** How much its passage matters: the next of the words for it. */
  | { readonly kind: 'matters'; readonly row: PassageRow }
  | { readonly kind: 'cut'; readonly row: LadderRow; readonly by: CutBy }
  | { readonly kind: 'quick'; readonly goal: string }

export type Effect =
  | { readonly kind: 'go'; readonly to: Destination }
  | { readonly kind: 'store'; readonly edits: Edits }

export type Listing = {
  readonly rows: readonly PassageRow[]
  readonly around: Around & { readonly pieces: readonly Piece[] }
}

export type Action =
  /** `ends`: going round, the foot also comes to what leads away from the list. */
  | { readonly kind: 'choose'; readonly by: 1 | -1; readonly round?: boolean; readonly ends?: boolean }
  /** A line by its place. */
  | { readonly kind: 'to'; readonly at: number }
  | { readonly kind: 'take' | 'new' | 'day' | 'leave' | 'back' | 'submit' }
  | { readonly kind: 'askCut' | 'change' | 'join' | 'matters' }
  | { readonly kind: 'cut'; readonly by: CutBy }
  | { readonly kind: 'import'; readonly path: string }
  | { readonly kind: 'edit'; readonly edit: FormAction }
  | { readonly kind: 'stored'; readonly known: Listing; readonly id: string }
  | { readonly kind: 'refused'; readonly text: string }
  | { readonly kind: 'known'; readonly known: Listing; readonly note: string }

export type Step = { readonly state: State; readonly effects: readonly Effect[] }

/** Where one is when nothing else is open. */
const ground = (rows: readonly PassageRow[]): View => (rows.length > 0 ? 'list' : 'question')

export const newState = (known: Listing, cautions: boolean, note = ''): State => ({
  view: ground(known.rows),
  rows: nearestFirst(known.rows),
  around: known.around,
  chosen: 0,
  answer: 0,
  part: 0,
  cautions,
  piece: newForm(),
  quick: newForm(['goal']),
  busy: false,
  note,
})

const only = (state: State, ...effects: Effect[]): Step => ({ state, effects })
const go = (s: State, to: Destination): Step => only({ ...s, note: '', cautions: false }, { kind: 'go', to })
const show = (s: State, view: View): Step => only({ ...s, view, note: '', cautions: false })

/** What the cursor goes through: its lines, and behind them the ways out, to which one pedal comes. */
type Cursor = {
  readonly at: 'chosen' | 'answer' | 'part'
  readonly lines: number
  readonly ways: readonly WayOut[]
}
const cursorOf = (s: State): Cursor | null => {
  if (s.view === 'list') return { at: 'chosen', lines: s.rows.length, ways: ['day', 'leave'] }
  if (s.view === 'question') return { at: 'answer', lines: ANSWERS.length, ways: ['leave'] }
  return s.view === 'sections' ? { at: 'part', lines: partsOf(s).length + 1, ways: [] } : null
}

const choose = (s: State, { by, round = false, ends = false }: Action & { kind: 'choose' }): State => {
  const c = cursorOf(s)
  return c ? { ...s, [c.at]: stepped(s[c.at], c.lines + (ends ? c.ways.length : 0), by, round), note: '' } : s
}

const lineTo = (s: State, at: number): State => {
  const c = cursorOf(s)
  return c && at >= 0 && at < c.lines ? { ...s, [c.at]: at, note: '' } : s
}

/** How many lines have a number. */
export const countOf = (s: State): number => cursorOf(s)?.lines ?? 0

/** The way out that the foot has come to; null = a line. */
export const wayOf = (s: State): WayOut | null => {
  const c = cursorOf(s)
  return c?.ways[s[c.at] - c.lines] ?? null
}

/** What the sections view offers to practice: each section, then the whole passage. */
export const partsOf = (s: State): readonly LadderRow[] => {
  const row = s.rows[s.chosen]
  return row ? [...row.sections, row] : []
}

/** The passage in hand, and the section of it. */
const passageAt = (s: State): PassageRow | undefined =>
  s.view === 'list' || s.view === 'sections' ? s.rows[s.chosen] : undefined
const ladderAt = (s: State): LadderRow | undefined =>
  s.view === 'sections' ? partsOf(s)[s.part] : passageAt(s)

/** The first section that has not reached its goal; the whole passage where all have. */
const inTurn = (row: PassageRow): number => {
  const open = row.sections.findIndex(p => !p.ceiling || compareTempo(p.ceiling, p.goal) < 0)
  return open < 0 ? row.sections.length : open
}

const ANSWERED: Readonly<Record<Answer, (s: State) => Step>> = {
  quick: s => show(s, 'quick'),
  piece: s => show(s, 'piece'),
  score: s => go(s, { kind: 'import', path: '' }),
  demo: s => go(s, { kind: 'demo' }),
}

const take = (s: State): Step => {
  const row = s.rows[s.chosen]
  const answer = ANSWERS[s.answer]
  const part = partsOf(s)[s.part]
  const way = wayOf(s)
  if (way) return go(s, { kind: way })
  if (s.view === 'sections') return part ? go(s, { kind: 'practice', row: part }) : show(s, 'list')
  if (s.view === 'list' && row && row.sections.length > 0)
    return show({ ...s, part: inTurn(row) }, 'sections')
  if (s.view === 'list' && row) return go(s, { kind: 'practice', row })
  if (s.view === 'question' && answer) return ANSWERED[answer.answer](s)
  return only(s)
}

const askCut = (s: State): Step => {
  if (s.view !== 'list' || !s.rows[s.chosen]) return only(s)
  return s.rows[s.chosen]?.sections.length === 0
    ? show(s, 'cut')
    : only({ ...s, note: ALREADY_CUT, cautions: false })
}

const join = (s: State): Step => {
  const row = passageAt(s)
  if (!row) return only(s)
  return row.join ? go(s, { kind: 'join', row }) : only({ ...s, note: NOT_READY, cautions: false })
}

const change = (s: State): Step => {
  const row = ladderAt(s)
  return row ? go(s, { kind: 'edit', row }) : only(s)
}

/** What a note made now is about: the passage or the section under the cursor. */
export const subjectOf = (s: State): Subject => {
  const [row, part] = [passageAt(s), ladderAt(s)]
  if (!row || !part) return { about: {}, says: '' }
  const piece = s.around.pieces.find(p => p.passages.some(x => x.id === row.id))
  return {
    about: { ...(piece ? { piece: piece.id } : {}), key: sectionKey(part.id) },
    says: [row.piece, row.place, ...(part === row ? [] : [part.place])].join(', '),
  }
}

const FORMS = { piece: 'piece', quick: 'quick' } as const
export const formOf = (s: State): Form | null => (s.view in FORMS ? s[s.view as keyof typeof FORMS] : null)
const withForm = (s: State, form: Form): State => ({ ...s, [s.view]: form, note: '' })

const submit = (s: State): Step => {
  const form = formOf(s)
  if (!form) return only(s)
  if (form.at < form.rows.length - 1) return only(withForm(s, editForm(form, { kind: 'row', by: 1 })))
  const look = firstWrong(form, s.around)
  if (look) return only({ ...withForm(s, look.form), note: look.says })
  if (s.view === 'quick') return go(s, { kind: 'quick', goal: textOf(form, 'goal').trim() })
  return only({ ...s, busy: true }, { kind: 'store', edits: editsOf(form) })
}

/** With what is in the repertoire now; the chosen passage stays chosen wherever it stands. */
const refreshed = (s: State, { rows, around }: Listing, id: string | undefined): State => {
  const sorted = nearestFirst(rows)
  const at = sorted.findIndex(r => r.id === id)
  const chosen = at >= 0 ? at : Math.max(0, Math.min(s.chosen, sorted.length - 1))
  const inside = s.view === 'sections' && id !== undefined && (sorted[chosen]?.sections.length ?? 0) > 0
  return { ...s, rows: sorted, around, chosen, view: inside ? 'sections' : ground(sorted) }
}

/** The home screen's next state, and what is to be done beside it. */
export const reduce = (s: State, a: Action): Step => {
  switch (a.kind) {
    case 'stored': {
      const state = refreshed({ ...s, piece: newForm(), busy: false }, a.known, a.id)
      return only({ ...state, note: 'Stored.' })
    }
    case 'refused':
      return only({ ...s, busy: false, note: a.text })
    case 'known':
      return only({ ...refreshed(s, a.known, s.rows[s.chosen]?.id), note: a.note })
    case 'leave':
      return go(s, { kind: 'leave' })
  }
  if (s.busy) return only(s)
  switch (a.kind) {
    case 'to':
      return only(lineTo(s, a.at))
    case 'choose':
      return only(choose(s, a))
    case 'take':
      return take(s)
    case 'new':
      return show(s, 'piece')
    case 'day':
      return s.rows.length > 0 ? go(s, { kind: 'day' }) : only(s)
    case 'import':
      return formOf(s) ? only(s) : go(s, { kind: 'import', path: a.path })
    case 'back':
      return formOf(s) || s.view === 'sections' || s.view === 'cut' ? show(s, ground(s.rows)) : only(s)
    case 'askCut':
      return askCut(s)
    case 'cut': {
      const row = s.rows[s.chosen]
      return s.view === 'cut' && row ? go({ ...s, view: 'list' }, { kind: 'cut', row, by: a.by }) : only(s)
    }
    case 'matters': {
      const row = passageAt(s)
      return row ? go(s, { kind: 'matters', row }) : only(s)
    }
    case 'join':
      return join(s)
    case 'change':
      return change(s)
    case 'submit':
      return submit(s)
    case 'edit': {
      const form = formOf(s)
      return form ? only(withForm(s, editForm(form, a.edit))) : only(s)
    }
  }
}
