import type { Role } from '../click/program.ts'
import { lastRungDone } from './answer.ts'
import type { Action, Asks, Session, SlotState, SlotTime, Step } from './session.ts'
import { TURN_IS_OVER } from './words.ts'

/** A rung is decided where nothing of it is begun: it was completed, left, or its row is empty. */
const decided = (s: Session): boolean => s.ladder.row === 0 || lastRungDone(s)

/** After a verdict: the time is over and the rung is decided, or it can't wait for that any longer. */
export const slotEnds = (s: Session): boolean => s.slot === 'late' || (s.slot === 'over' && decided(s))

/** The last rung is done, and nobody has asked yet whether to go on. */
export const handsOn = (s: Session): boolean => !s.handed && !s.setup.ends && lastRungDone(s)

/** What the question hangs on has been taken back: it is asked no more, and anew when it is reached again. */
export const withLadder = (s: Session, ladder: Session['ladder']): Session => {
  const reached = lastRungDone({ ladder })
  return {
    ...s,
    ladder,
    handed: s.handed && reached,
    asks: s.asks === 'goal' && !reached ? null : s.asks,
  }
}

/** Nothing of a repetition is under way and no verdict is open. */
const between = (s: Session): boolean => !s.current || (!s.current.entered && s.last?.verdict !== null)

/** The click is silent and the question stands; `said` is what a stop that led to it sounds like. */
export const asking = (s: Session, said: readonly Role[]): Step => ({
  session: {
    ...s,
    phase: 'hold',
    current: null,
    next: null,
    last: null,
    hearing: null,
    asks: slotEnds(s) ? 'time' : 'goal',
    handed: s.handed || lastRungDone(s),
  },
  effects: [{ kind: 'stop' }, ...said.map(role => ({ kind: 'signal' as const, role }))],
})

/** The clock of the slot says where it stands. A repetition that is under way is never cut. */
export const timed = (s: Session, slot: SlotTime): Step => {
  const now: Session = { ...s, slot }
  return s.asks === null && slotEnds(now) && between(now) ? asking(now, []) : { session: now, effects: [] }
}

/** What the question hears: right goes on to what comes next; left, or waiting, stays (after its time two more minutes). */
export const answered = (s: Session, a: Action): 'finish' | 'stay' | 'nothing' | null => {
  if (s.asks === null || (a.kind !== 'pedal' && a.kind !== 'wait')) return null
  if (a.kind === 'pedal' && a.pedal === 'both') return 'nothing'
  return a.kind === 'pedal' && a.pedal === 'right' ? 'finish' : 'stay'
}

/** What is said of the slot's time; empty without a slot. Whole minutes, nothing that counts down. */
export const slotText = ({ slot, asks }: Pick<Session, 'slot' | 'asks'>, minutesLeft: number): string => {
  const words: Readonly<Record<SlotState, string>> = {
    none: '',
    left: minutesLeft > 0 ? `${minutesLeft} min left` : 'the turn ends with this rung',
    over: 'the turn ends with this rung',
    late: 'the turn ends with this repetition',
  }
  return asks ? '' : words[slot]
}

/** What was understood, and that the time is over. */
export const withSlot = (s: Session, said: string): string =>
  s.asks === 'time' ? [said, TURN_IS_OVER].filter(Boolean).join(' ') : said

/** How it can go on, in words: on to what comes next or to the end, or stay. */
export const askedChoices = (
  asks: Asks,
  slot: SlotState,
): { readonly on: string; readonly stay: string } => ({
  on: slot === 'none' ? 'finish' : 'what comes next',
  stay: asks === 'time' ? 'two more minutes' : 'stay here',
})

/** What the pedals answer then. */
export const askedHint = (
  { asks, slot, setup }: Session,
  keys: { readonly right: string; readonly left: string },
): string => {
  if (asks === null) return ''
  const { on, stay } = askedChoices(asks, slot)
  return setup.pedals === 1
    ? `pedal (${keys.right}): ${on}   w: ${stay}`
    : `right (${keys.right}): ${on}   left (${keys.left}): ${stay}`
}
