import type { Frac } from '../music/fraction.ts'
import { type Meter, meterText } from '../music/meter.ts'
import { noteValueName } from '../music/note-value.ts'

/**
 * Whose ceiling it is. A section is known by its id, so that renaming it keeps its history; rhythms keep theirs apart.
 * A quick ladder is known by its music: meter, measures, pick-up, beat and rhythm; start, goal, steps and rules may change.
 */
export const sectionKey = (id: string, rhythm = 'even'): string => `section ${id} ${rhythm}`

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
