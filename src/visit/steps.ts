import type { Role } from '../click/program.ts'
import type { Body } from '../ladder/event.ts'
import { LEAST_AIR, MOST_AIR } from '../ladder/history.ts'
import { sameTempo } from '../music/tempo.ts'
import { enough } from './answer.ts'
import { fastIsNext } from './fast.ts'
import {
  type Effect,
  type Remark,
  rungOf,
  type Session,
  type Sounding,
  type Step,
  type Then,
} from './session.ts'
import { asking, handsOn, slotEnds } from './slot.ts'
import { restAfter, soundingOf } from './sounding.ts'

/** Seconds before a count-in that follows a change by hand. */
export const SHORT_REST = 0.5

export const only = (session: Session, ...effects: Effect[]): Step => ({ session, effects })
export const say = (s: Session, note: Remark): Session => ({ ...s, note })
export const append = (bodies: readonly Body[], then: Then): Effect => ({ kind: 'append', bodies, then })

export const hold = (s: Session, note: Remark): Step =>
  only({ ...s, phase: 'hold', current: null, next: null, last: null, hearing: null, note }, { kind: 'stop' })

/** Plays the next take now, or behind the one that still sounds. */
export const launch = (s: Session, rest: number, signals: readonly Role[], firstSignal?: number): Step => {
  const take = soundingOf(s, rest, signals, firstSignal)
  const behind = s.current?.entered === true && !s.current.over && s.current.verdict?.whole === true
  const session: Session = behind
    ? { ...s, next: take, reps: take.rep }
    : {
        ...s,
        phase: 'going',
        hearing: null,
        last: s.current?.entered ? s.current : s.last,
        current: take,
        next: null,
        reps: take.rep,
      }
  return only(session, { kind: 'play', take, after: behind ? 'current' : 'now' })
}

export const finish = (s: Session): Step => {
  const silent = { current: null, next: null, last: null, hearing: null }
  const done: Session = { ...s, ...silent, phase: 'done', note: { kind: 'none' } }
  return only(done, { kind: 'stop' }, append(leftOver(s), { kind: 'done' }))
}

/** What comes after the verdict that stands: the end, the question how to go on, or (null) the next repetition. */
export const follows = (s: Session): 'end' | 'ask' | null =>
  enough(s) ? 'end' : slotEnds(s) || handsOn(s) ? 'ask' : fastIsNext(s) ? 'end' : null

export const conclude = (s: Session, said: readonly Role[] = []): Step =>
  follows(s) === 'ask' ? asking(s, said) : finish(s)

/** The last verdict can be turned as long as any other: what follows it waits for the usual rest. */
export const settle = (s: Session, take: Sounding, said: readonly Role[]): Step =>
  only(
    { ...s, current: { ...take, over: true }, last: null, next: null },
    { kind: 'stop' },
    ...said.slice(0, 1).map(role => ({ kind: 'signal' as const, role })),
    { kind: 'rest', seconds: s.setup.rest.clean, events: s.events.length },
  )

/** A change of the rung reaches the sound: a queued or counted-in take is made anew, a sounding one may end. */
export const retune = (s: Session): Step => {
  if (!s.current) return only(s)
  if (s.next) return launch({ ...s, next: null }, restAfter(s.setup, s.current, true, true), [])
  if (!s.current.entered && !sameTempo(s.current.tempo, rungOf(s.ladder)))
    return launch({ ...s, current: s.last }, SHORT_REST, [])
  return only(s)
}

/** To a hundredth of a second; what no one can play in one breath is not written. */
const airBody = ({ air = 0 }: Sounding): { air?: number } => {
  const seconds = Math.round(air * 100) / 100
  return seconds >= LEAST_AIR && seconds <= MOST_AIR ? { air: seconds } : {}
}

/** What is written of a repetition that was judged. */
export const verdictBody = (t: Sounding, clean: boolean, whole: boolean, place?: string): Body => ({
  kind: 'verdict',
  rep: t.rep,
  tempo: t.tempo,
  whole,
  clean,
  ...(place ? { place } : {}),
  ...(whole && clean ? airBody(t) : {}),
})

/** What is written of one that was heard and not judged. */
export const unjudged = (t: Sounding, why: 'silent' | 'unclear' | 'interrupted'): Body => ({
  kind: 'unjudged',
  rep: t.rep,
  tempo: t.tempo,
  why,
})

/** The repetition that is neither judged nor over when everything stops. */
export const leftOver = (s: Pick<Session, 'last' | 'current'>): readonly Body[] => {
  const open = [s.last, s.current].filter(t => t?.entered && !t.verdict) as Sounding[]
  return open.map(t => unjudged(t, t.over ? 'silent' : 'interrupted'))
}
