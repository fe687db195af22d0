import { countedEvents } from '../ladder/fold.ts'
import { counts } from '../ladder/history.ts'
import { sameTempo } from '../music/tempo.ts'
import { rungOf, type Session } from './session.ts'

/** Clean verdicts, all verdicts, and those given on the present rung, of this visit. */
export const tally = (s: Session): { clean: number; verdicts: number; here: number } => {
  const here = countedEvents(s.events).filter(
    e => e.kind === 'verdict' && sameTempo(e.tempo, rungOf(s.ladder)),
  ).length
  const { clean, verdicts } = counts(s.events)
  return { clean, verdicts, here }
}
