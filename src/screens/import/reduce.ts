import type { Offer, PrintedGoal } from '../../score/offer.ts'
import { editLine, type Line, type LineAction, lineOf } from '../line.ts'
import { MEASURES, MISSING } from './words.ts'

type Which = keyof typeof MEASURES
const ALL_MEASURES = Object.keys(MEASURES) as readonly Which[]
/** Where the goal comes from. */
type GoalFrom = 'score' | 'typed' | 'open'

/** Lines of the screen: choices, and what is typed. */
type ChoiceRow = 'part' | 'movement' | 'pieces' | 'which' | 'goal'
export type TextRow = 'file' | 'from' | 'to' | 'tempo'
export type ImportRow = ChoiceRow | TextRow

export type State = {
  /** Null until a file is read. */
  readonly offer: Offer | null
  readonly row: ImportRow
  /** Index of the part. */
  readonly part: number
  /** 0 = all of them, else counted from 1. */
  readonly movement: number
  /** Whether each movement becomes a piece of its own. */
  readonly apart: boolean
  readonly which: Which
  readonly goal: GoalFrom
  readonly texts: Readonly<Record<TextRow, Line>>
  /** Being read or stored: nothing else is taken meanwhile. */
  readonly busy: boolean
  readonly note: string
}

/** The tempo that is printed where the chosen music begins. */
export const printedIn = (s: State): PrintedGoal =>
  s.offer?.goalOf(Math.max(0, s.movement - 1)) ?? { kind: 'none' }

export const goalsOf = (s: State): readonly GoalFrom[] =>
  printedIn(s).kind === 'none' ? ['open', 'typed'] : ['score', 'typed', 'open']

/** The lines that there are, from top to bottom: what has one choice only is not asked. */
export const rowsOf = (s: State): readonly ImportRow[] => {
  const { offer } = s
  if (!offer) return ['file']
  return [
    ...(offer.parts.length > 1 ? (['part'] as const) : []),
    ...(offer.movements.length > 1 ? (['movement'] as const) : []),
    'which',
    ...(s.which === 'some' ? (['from', 'to'] as const) : []),
    'goal',
    ...(s.goal === 'typed' ? (['tempo'] as const) : []),
    ...(offer.movements.length > 1 && s.movement === 0 ? (['pieces'] as const) : []),
  ]
}

const CHOICES: readonly string[] = ['part', 'movement', 'pieces', 'which', 'goal']
export const isText = (row: ImportRow): row is TextRow => !CHOICES.includes(row)

/** What a key finds open: a choice, a line that is typed, or the line for the file. */
export const openOf = (s: State): 'file' | 'choice' | 'text' =>
  s.row === 'file' ? 'file' : isText(s.row) ? 'text' : 'choice'

/** What was chosen, in the words of `piece import`. */
export type Picked = {
  readonly part: string
  readonly movement?: string
  readonly pieces?: true
  readonly passages?: true
  readonly whole?: true
  readonly from?: string
  readonly to?: string
  readonly goal?: string
}

export type Action =
  | { readonly kind: 'row' | 'choose'; readonly by: 1 | -1; readonly round?: true }
  | { readonly kind: 'edit'; readonly edit: LineAction }
  | { readonly kind: 'paste' | 'refused'; readonly text: string }
  | { readonly kind: 'take' | 'leave' | 'quit' }
  | { readonly kind: 'read'; readonly offer: Offer }

export type Effect =
  | { readonly kind: 'read'; readonly path: string }
  | { readonly kind: 'import'; readonly picked: Picked }
  | { readonly kind: 'end'; readonly quit: boolean }

export type Step = { readonly state: State; readonly effects: readonly Effect[] }

const LONGEST = 1000

/** `path`: a file that was dropped; with an offer it is read already. */
export const newImport = (offer: Offer | null, path = ''): State => {
  const empty = lineOf('')
  const state: State = {
    offer: null,
    row: 'file',
    part: 0,
    movement: 0,
    apart: false,
    which: 'both',
    goal: 'score',
    texts: { file: lineOf(path), from: empty, to: empty, tempo: empty },
    busy: false,
    note: '',
  }
  return offer ? offered(state, offer) : state
}

const offered = (s: State, offer: Offer): State => {
  const state: State = { ...s, offer, part: 0, movement: 0, busy: false, note: '' }
  return { ...state, row: rowsOf(state)[0] ?? 'which', goal: goalsOf(state)[0] ?? 'open' }
}

const only = (state: State, ...effects: Effect[]): Step => ({ state, effects })

const beside = <T>(all: readonly T[], now: T, by: number, round: boolean): T => {
  const at = all.indexOf(now) + by
  return all[round ? (at + all.length) % all.length : Math.max(0, Math.min(all.length - 1, at))] ?? now
}

const indices = (n: number): readonly number[] => Array.from({ length: n }, (_, i) => i)

/** The line in hand, one choice on. */
const chosen = (s: State, by: 1 | -1, round: boolean): State => {
  const { offer } = s
  if (!offer) return s
  switch (s.row) {
    case 'part':
      return { ...s, part: beside(indices(offer.parts.length), s.part, by, round) }
    case 'pieces':
      return { ...s, apart: beside([false, true], s.apart, by, round) }
    case 'movement': {
      const next = { ...s, movement: beside(indices(offer.movements.length + 1), s.movement, by, round) }
      const goals = goalsOf(next)
      // What was only there for want of a printed tempo does not stay where there is one.
      const kept = s.goal === 'typed' || (s.goal === goals[0] && goals[0] === goalsOf(s)[0])
      return { ...next, goal: kept ? s.goal : (goals[0] ?? 'open') }
    }
    case 'which':
      return { ...s, which: beside(ALL_MEASURES, s.which, by, round) }
    case 'goal':
      return { ...s, goal: beside(goalsOf(s), s.goal, by, round) }
    default:
      return s
  }
}

const textIn = (s: State, row: TextRow): string => s.texts[row].text.trim()

/** What is still to be said, at its line. */
const missing = (s: State): { readonly row: ImportRow; readonly note: string } | null => {
  if (s.which === 'some') {
    if ((s.offer?.movements.length ?? 0) > 1 && s.movement === 0)
      return { row: 'movement', note: MISSING.movement }
    if (textIn(s, 'from') === '') return { row: 'from', note: MISSING.from }
    if (textIn(s, 'to') === '') return { row: 'to', note: MISSING.to }
  }
  return s.goal === 'typed' && textIn(s, 'tempo') === '' ? { row: 'tempo', note: MISSING.tempo } : null
}

const picked = (s: State): Picked => ({
  part: s.offer?.parts[s.part]?.id ?? '',
  ...(s.movement > 0 ? { movement: String(s.movement) } : s.apart ? { pieces: true as const } : {}),
  ...(s.which === 'hard' ? { passages: true as const } : {}),
  ...(s.which === 'whole' ? { whole: true as const } : {}),
  ...(s.which === 'some' ? { from: textIn(s, 'from'), to: textIn(s, 'to') } : {}),
  ...(s.goal === 'typed' ? { goal: textIn(s, 'tempo') } : s.goal === 'open' ? { goal: 'open' } : {}),
})

const take = (s: State): Step => {
  if (!s.offer) {
    const path = textIn(s, 'file')
    return path === ''
      ? only({ ...s, note: MISSING.file })
      : only({ ...s, busy: true, note: '' }, { kind: 'read', path })
  }
  const lacks = missing(s)
  // The first of two lines that belong together leads to the second without a word.
  if (lacks)
    return only({ ...s, row: lacks.row, note: s.row === 'from' && lacks.row === 'to' ? '' : lacks.note })
  return only({ ...s, busy: true, note: '' }, { kind: 'import', picked: picked(s) })
}

const edited = (s: State, edit: LineAction): State => {
  const { row } = s
  return isText(row)
    ? { ...s, texts: { ...s.texts, [row]: editLine(s.texts[row], edit, LONGEST) }, note: '' }
    : s
}

/** The next state, and what is to be done beside it. */
export const reduce = (s: State, a: Action): Step => {
  switch (a.kind) {
    case 'leave':
    case 'quit':
      return only(s, { kind: 'end', quit: a.kind === 'quit' })
    case 'refused':
      return only({ ...s, busy: false, note: a.text })
    case 'read':
      return only(offered(s, a.offer))
  }
  if (s.busy) return only(s)
  switch (a.kind) {
    case 'row':
      return only({ ...s, row: beside(rowsOf(s), s.row, a.by, false), note: '' })
    case 'choose':
      return only({ ...chosen(s, a.by, a.round === true), note: '' })
    case 'edit':
      return only(edited(s, a.edit))
    case 'paste':
      // A file that is dropped is the file; elsewhere what is pasted is typed.
      return s.row === 'file'
        ? take({ ...s, texts: { ...s.texts, file: lineOf(a.text.slice(0, LONGEST)) } })
        : only(edited(s, { kind: 'type', text: a.text }))
    case 'take':
      return take(s)
  }
}
