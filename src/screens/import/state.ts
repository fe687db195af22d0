import type { Offer, PrintedGoal } from '../../score/offer.ts'
import type { Line } from '../line.ts'

/** Which measures are taken. */
export type Which = 'both' | 'hard' | 'whole' | 'some'
export const WHICH: readonly Which[] = ['both', 'hard', 'whole', 'some']
/** Where the goal comes from. */
export type GoalFrom = 'score' | 'typed' | 'open'

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
