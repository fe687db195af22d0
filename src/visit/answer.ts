import type { Role } from '../click/program.ts'
import { compareHard, directionOf } from '../ladder/direction.ts'
import type { Event, LadderState } from '../ladder/event.ts'
import { countedEvents } from '../ladder/fold.ts'
import { counts } from '../ladder/history.ts'
import { sameTempo, type Tempo } from '../music/tempo.ts'
import { ladderOf, type Remark, rungOf, type Session } from './session.ts'

/** Stops in one measure after which a smaller section is suggested. */
const STOPS_TO_SUGGEST = 3
/** Drops in one visit after which something else is suggested. */
export const DROPS_TO_SUGGEST = 3
/** No more short notes than can be counted while breathing. */
const MOST_NOTES = 5

/** A rung that was done where nothing lies above it, short of the goal. */
const stays = (before: LadderState, after: LadderState, clean: boolean): boolean =>
  clean && after.row === 0 && !after.goal && before.at === after.at && !before.finding && !after.finding

/** The last rung is done: the goal, or as far as it goes for now. */
export const lastRungDone = ({ ladder: s }: Pick<Session, 'ladder'>): boolean =>
  s.ceiling !== null && !s.finding && sameTempo(s.ceiling, s.rungs.at(-1) as Tempo)

/** What the player hears in the rest: how far the row is, or that the rung has changed. */
export const signalsOf = (before: LadderState, after: LadderState, clean: boolean): readonly Role[] => {
  const rise = compareHard(rungOf(after), rungOf(before), directionOf(after.rungs))
  if (rise > 0 || (after.goal && !before.goal)) return ['up']
  if (rise < 0) return ['down']
  if (stays(before, after, clean)) return ['up']
  // Beyond the goal nothing is counted.
  const row = before.goal ? 1 : Math.max(1, Math.min(after.row, MOST_NOTES))
  return clean ? Array(row).fill('row') : ['slip']
}

/** What the latest verdict sounds like. */
export const lastSignals = (s: Session): readonly Role[] => {
  const at = s.events.findLastIndex(e => e.kind === 'verdict')
  const verdict = s.events[at]
  if (verdict?.kind !== 'verdict') return []
  return signalsOf(ladderOf(s.setup, s.events.slice(0, at)), s.ladder, verdict.clean)
}

/** The measure in which it was stopped for the third time in this visit (the sixth, ...), if it was. */
export const stuckAt = (events: readonly Event[]): string | null => {
  const measures = countedEvents(events).flatMap(e =>
    e.kind === 'verdict' && e.place ? [e.place.split(/[.+]/)[0] ?? ''] : [],
  )
  const here = measures.at(-1)
  const times = measures.filter(m => m === here).length
  return here && times % STOPS_TO_SUGGEST === 0 ? here : null
}

export const noteOf = (
  before: LadderState,
  after: LadderState,
  clean: boolean,
  whole: boolean,
  stuck: string | null,
): Remark => {
  if (!whole && stuck !== null) return { kind: 'place', measure: stuck }
  const rise = compareHard(rungOf(after), rungOf(before), directionOf(after.rungs))
  if (after.goal && !before.goal) return { kind: 'goal' }
  if (after.drops > before.drops && after.drops >= DROPS_TO_SUGGEST) return { kind: 'suggest' }
  if (rise > 0) return { kind: 'up', tempo: rungOf(after) }
  if (rise < 0) return { kind: 'down', tempo: rungOf(after) }
  if (stays(before, after, clean)) return { kind: 'stays', tempo: rungOf(after) }
  return { kind: clean ? 'clean' : whole ? 'slip' : 'cut' }
}

/** A visit of so many clean ones or so many tries is over. */
export const enough = ({ setup: { ends }, events }: Session): boolean => {
  if (!ends) return false
  const { clean, verdicts } = counts(events)
  return clean >= ends.clean || verdicts >= ends.tries
}

/** Clean verdicts, all verdicts, and those given on the present rung, of this visit. */
export const tally = (s: Session): { clean: number; verdicts: number; here: number } => {
  const here = countedEvents(s.events).filter(
    e => e.kind === 'verdict' && sameTempo(e.tempo, rungOf(s.ladder)),
  ).length
  const { clean, verdicts } = counts(s.events)
  return { clean, verdicts, here }
}
