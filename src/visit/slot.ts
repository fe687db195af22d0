import type { Role } from '../click/program.ts'
import type { Action, Session, SlotState, SlotTime, Step } from './session.ts'

/** A rung is decided where nothing of it is begun: it was completed, left, or its row is empty. */
const decided = (s: Session): boolean => s.ladder.row === 0

/** After a verdict: the time is over and the rung is decided, or it can't wait for that any longer. */
export const slotEnds = (s: Session): boolean => s.slot === 'late' || (s.slot === 'over' && decided(s))

/** Nothing of a repetition is under way and no verdict is open. */
const between = (s: Session): boolean =>
  s.phase !== 'going' || (s.current !== null && !s.current.entered && s.last?.verdict !== null)

/** The click is silent and the question stands; `said` is what the last verdict sounds like. */
export const asking = (s: Session, said: readonly Role[]): Step => ({
  session: { ...s, phase: 'hold', current: null, next: null, last: null, hearing: null, slot: 'asks' },
  effects: [{ k: 'stop' }, ...said.slice(0, 1).map(role => ({ k: 'signal' as const, role }))],
})

/** The clock of the slot says where it stands. A repetition that is under way is never cut. */
export const timed = (s: Session, slot: SlotTime): Step => {
  const now: Session = { ...s, slot }
  if (s.slot === 'asks' && slot !== 'left') return { session: s, effects: [] }
  return slotEnds(now) && between(now) ? asking(now, []) : { session: now, effects: [] }
}

/** What the question hears: right goes on to what comes next; left, or waiting longer, gives it two more minutes. */
export const answered = (s: Session, a: Action): 'finish' | 'more' | 'nothing' | null => {
  if (s.slot !== 'asks' || (a.k !== 'pedal' && a.k !== 'wait')) return null
  if (a.k === 'pedal' && a.pedal === 'both') return 'nothing'
  return a.k === 'pedal' && a.pedal === 'right' ? 'finish' : 'more'
}

/** What is said of the slot's time; empty without a slot. Whole minutes, nothing that counts down. */
export const slotText = (slot: SlotState, minutesLeft: number): string =>
  ({
    none: '',
    left: `${minutesLeft} min left`,
    over: 'the slot ends with this rung',
    late: 'the slot ends with this repetition',
    asks: '',
  })[slot]

/** What was understood, and that the slot has ended. */
export const withSlot = (s: Session, said: string): string =>
  s.slot === 'asks' ? [said, 'The slot is over.'].filter(Boolean).join(' ') : said

/** What the pedals answer then. */
export const slotHint = (pedals: 1 | 2, keys: { readonly right: string; readonly left: string }): string =>
  pedals === 1
    ? `pedal (${keys.right}): what comes next   w: two more minutes`
    : `right (${keys.right}): what comes next   left (${keys.left}): two more minutes`
