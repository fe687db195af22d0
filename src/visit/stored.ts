import type { Event, LadderState } from '../ladder/event.ts'
import { sameTempo } from '../music/tempo.ts'
import { noteOf, signalsOf, stuckAt } from './answer.ts'
import { ladderOf, rungOf, type Session, type Sounding, type Step, type Then } from './session.ts'
import { withLadder } from './slot.ts'
import { restAfter } from './sounding.ts'
import { append, conclude, follows, launch, only, retune, SHORT_REST, settle, unjudged } from './steps.ts'

const judged = (
  s: Session,
  before: LadderState,
  events: readonly Event[],
  then: Then & { kind: 'judged' },
): Step => {
  // What it takes back stands before it.
  const { id } = events.at(-1) as Event
  const verdict = { id, clean: then.clean, whole: then.whole }
  const mark = (t: Sounding | null): Sounding | null => (t && t.rep === then.rep ? { ...t, verdict } : t)
  const note = noteOf(before, s.ladder, then.clean, then.whole, stuckAt(s.events))
  const next: Session = {
    ...s,
    current: mark(s.current),
    last: mark(s.last),
    unanswered: 0,
    fresh: [id],
    // What is played once and apart reaches no goal.
    note: s.setup.ends && note.kind === 'goal' ? { kind: 'clean' } : note,
  }
  if (!s.current) return only(next)
  const what = follows(next)
  if (what) {
    // What was cut short is not clean for good.
    if (!then.whole) return conclude(next, signalsOf(before, s.ladder, then.clean))
    const take = [next.current, next.last].find(x => x?.rep === then.rep)
    const sounds = take === next.current && take?.over === false
    return take && !sounds ? settle(next, take, signalsOf(before, s.ladder, then.clean)) : only(next)
  }
  const late = next.last?.rep === then.rep
  // Late in the count-in of the next repetition and nothing changed: it goes on.
  if (late && then.counting && s.setup.after === 'go-on' && sameTempo(rungOf(s.ladder), rungOf(before)))
    return only(next)
  const from: Session = late ? { ...next, current: next.last } : next
  const rest = restAfter(s.setup, from.current, then.clean, then.whole)
  return launch(from, rest, signalsOf(before, s.ladder, then.clean))
}

/** A repetition is open again: it waits for its verdict, or, where the rung has changed, the right tempo is counted in. */
const reopened = (s: Session, before: LadderState, then: Then & { kind: 'takenBack' }): Step => {
  const open = (t: Sounding | null): Sounding | null =>
    t && t.rep === then.rep ? { ...t, verdict: null } : t
  const session: Session = {
    ...s,
    current: open(s.current),
    // One that was stopped is not there to be judged anew.
    last: s.last?.rep === then.rep && s.last.verdict?.whole === false ? null : open(s.last),
    fresh: [],
    note: { kind: 'takenBack' },
  }
  if (!session.current) return only(session)
  if (session.current.rep === then.rep) return only({ ...session, next: null }, { kind: 'unqueue' })
  if (!session.current.entered && session.last?.rep === then.rep && s.setup.after === 'wait')
    return only({ ...session, current: { ...session.last, over: true }, last: null }, { kind: 'stop' })
  if (sameTempo(rungOf(before), rungOf(s.ladder))) return only(session)
  const cut =
    session.current.entered && !session.current.verdict ? [unjudged(session.current, 'interrupted')] : []
  if (cut.length === 0) return retune(session)
  return only(session, { kind: 'stop' }, append(cut, { kind: 'restart' }))
}

/** The state moves from what is on disk. */
export const stored = (s: Session, events: readonly Event[], then: Then): Step => {
  const all = [...s.events, ...events]
  const before = s.ladder
  const ladder = ladderOf(s.setup, all)
  const now: Session = { ...withLadder(s, ladder), events: all }
  if (then.kind === 'restart') return launch({ ...now, current: null, last: null }, SHORT_REST, [])
  if (then.kind === 'unclear') return only({ ...now, fresh: [] }, { kind: 'signal', role: 'unclear' })
  if (then.kind === 'moved') return retune({ ...now, note: { kind: 'moved', tempo: rungOf(ladder) } })
  if (then.kind === 'takenBack') return reopened(now, before, then)
  if (then.kind !== 'judged') return only(now)
  return judged(now, before, events, then)
}
