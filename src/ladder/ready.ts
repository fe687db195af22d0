import { compareTempo, type Tempo } from '../music/tempo.ts'

/** One cold take: the local day ("2026-03-14"), the tempo, and whether it was clean. */
export type ColdTake = { readonly day: string; readonly tempo: Tempo; readonly clean: boolean }

/** Clean cold takes at the goal on so many days make a section ready. */
const DAYS_TO_BE_READY = 2

/** The highest tempo of a clean cold take; null = none yet. */
export const secure = (takes: readonly ColdTake[]): Tempo | null =>
  takes
    .filter(t => t.clean)
    .reduce<Tempo | null>((best, t) => (best && compareTempo(best, t.tempo) >= 0 ? best : t.tempo), null)

/** Ready: the goal was reached, and cold takes at the goal were clean on two days. */
export const isReady = (ceiling: Tempo | null, goal: Tempo, takes: readonly ColdTake[]): boolean => {
  const days = new Set(takes.filter(t => t.clean && compareTempo(t.tempo, goal) >= 0).map(t => t.day))
  return ceiling !== null && compareTempo(ceiling, goal) >= 0 && days.size >= DAYS_TO_BE_READY
}
