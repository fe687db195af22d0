import type { Frac } from '../music/fraction.ts'
import { type Meter, meterText } from '../music/meter.ts'
import { noteValueName } from '../music/note-value.ts'
import type { Direction } from './direction.ts'

/**
 * Whose ceiling it is. A section is known by its id, so that renaming it keeps its history; rhythms keep theirs apart.
 * A quick ladder is known by its music: meter, measures, pick-up, beat and rhythm; start, goal, steps and rules may change.
 */
export const sectionKey = (id: string, rhythm = 'even'): string => `section ${id} ${rhythm}`

/** A ladder that leads down has a history of its own: what is hard in it is easy in the other. */
export const downKey = (key: string): string => key.replace(/ even$/, ' down')
export const directionOfKey = (key: string): Direction => (key.endsWith(' down') ? 'down' : 'up')

/** Sections played as one have ceilings of their own, whichever of them is named first. */
export const joinKey = (ids: readonly string[], rhythm = 'even'): string =>
  `join ${[...ids].sort().join('+')} ${rhythm}`

export const quickKey = (o: {
  readonly meter: Meter
  readonly measures: number
  readonly pickup: Frac | null
  readonly unit: Frac
  readonly rhythm?: string
}): string =>
  [
    'quick',
    meterText(o.meter),
    `x${o.measures}`,
    o.pickup ? noteValueName(o.pickup) : 'none',
    noteValueName(o.unit),
    o.rhythm ?? 'even',
  ].join(' ')

/**
 * What is played once and apart: a cold take (the first repetition of a day), a run from the entry, a try at the goal,
 * one beat and its next note at the goal, a repetition without a sound (fingers, sung, bow in the air), the last time
 * through of a day, slow repetitions on the evening before a date. Its ceiling is
 * the highest tempo that was clean so (of cold takes: the secure tempo); the ladder's own is never touched.
 */
export const TAKES = ['cold', 'entry', 'goal', 'beat', 'silent', 'through', 'slow'] as const
export type TakeKind = (typeof TAKES)[number]
/** The ladder that a key belongs to, and the take that was played apart from it. */
export const takenFrom = (key: string): { readonly take: TakeKind | null; readonly ladder: string } => {
  const take = TAKES.find(t => key.startsWith(`${t} `)) ?? null
  return { take, ladder: take ? key.slice(take.length + 1) : key }
}

export const takeKey = (kind: TakeKind, key: string): string => `${kind} ${key}`
