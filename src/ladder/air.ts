import type { Event } from './event.ts'
import { countedEvents } from './fold.ts'
import { takenFrom } from './key.ts'

/** What can be written of one breath, seconds. Nobody plays longer in one breath or with one bow. */
export const LEAST_AIR = 0.01
export const MOST_AIR = 600

const greatest = (all: readonly number[]): number | null => (all.length > 0 ? Math.max(...all) : null)

/** The longest breath in whole clean repetitions of one visit, seconds; those that were taken back do not count. */
export const airOf = (visit: readonly Event[]): number | null =>
  greatest(
    countedEvents(visit).flatMap(e => (e.kind === 'verdict' && e.whole && e.clean && e.air ? [e.air] : [])),
  )

/** The longest breath that was ever played clean, seconds; a repetition without a sound needs none. */
export const longestClean = (
  visits: readonly { readonly key: string; readonly air: number | null }[],
): number | null =>
  greatest(visits.flatMap(v => (v.air !== null && takenFrom(v.key).take !== 'silent' ? [v.air] : [])))
