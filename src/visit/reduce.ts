import { compile } from '../click/compile.ts'
import { compareHard, directionOf } from '../ladder/direction.ts'
import type { Body } from '../ladder/event.ts'
import { countedEvents } from '../ladder/fold.ts'
import type { Tempo } from '../music/tempo.ts'
import { lastSignals } from './answer.ts'
import { goOn, holdNote, legOf, waitsAtEnd } from './legs.ts'
import { counting, judgedTake, momentOf, placeOf } from './moment.ts'
import { judge, type Meaning } from './pedal-table.ts'
import type { Action, Effect, Remark, Session, Setup, Sounding, Step, Then } from './session.ts'
import { answered, timed } from './slot.ts'
import { clickOf, formAt, restAfter } from './sounding.ts'
import {
  append,
  conclude,
  finish,
  follows,
  hold,
  launch,
  leftOver,
  only,
  retune,
  say,
  settle,
  unjudged,
  verdictBody,
} from './steps.ts'
import { stored } from './stored.ts'
import { aboveLastRung, NO_FURTHER_RUNG } from './words.ts'

/** After so many repetitions without an answer (one more with one pedal) nothing goes on before a verdict. */
const MOST_UNANSWERED = 2
/** A repetition that goes on by itself asks for its verdict after so many seconds. */
const ASK_AFTER = 1

const give = (s: Session, frame: number, t: Sounding, clean: boolean, place?: string): Step => {
  const whole = place === undefined
  const takeBack: Body[] = t.verdict ? [{ kind: 'takeBack', of: t.verdict.id }] : []
  const bodies = [...takeBack, verdictBody(t, clean, whole, place)]
  const then: Then = { kind: 'judged', rep: t.rep, clean, whole, counting: counting(s.current, frame) }
  const cut: Effect[] = whole ? [] : [{ kind: 'stop' }]
  return only(say(s, { kind: 'heard' }), ...cut, append(bodies, then))
}

/** Both pedals: stop, take back what the first of them wrote, count nothing. */
const unclear = (s: Session, t: Sounding | null): Step => {
  const takeBacks: Body[] = s.fresh.map(of => ({ kind: 'takeBack', of }))
  const open = t?.entered && (!t.verdict || s.fresh.includes(t.verdict.id)) ? [unjudged(t, 'unclear')] : []
  const held = hold(s, { kind: 'unclear' })
  const bodies = [...takeBacks, ...open]
  return only(held.session, ...held.effects, append(bodies, { kind: 'unclear' }))
}

const start = (s: Session): Step =>
  launch({ ...s, current: null, last: null, unanswered: 0, note: { kind: 'none' } }, 0, [])

/** What the pedals say; a verdict speaks of a repetition, which then is there. */
const meanings: Readonly<Record<Meaning, (s: Session, frame: number, t: Sounding | null) => Step>> = {
  start,
  notYet: s => only(say(s, { kind: 'notYet' })),
  already: s => only(say(s, { kind: 'already' })),
  clean: (s, frame, t) => give(s, frame, t as Sounding, true),
  notClean: (s, frame, t) => give(s, frame, t as Sounding, false),
  toClean: (s, frame, t) => give(s, frame, t as Sounding, true),
  toSlip: (s, frame, t) => give(s, frame, t as Sounding, false),
  stopSlip: (s, frame, t) => {
    const take = t as Sounding
    return give(s, frame, take, false, placeOf(s, take, frame))
  },
  hold: s => (follows(s) ? conclude(s) : hold(s, { kind: 'hold' })),
  goOn: (s, _, t) => goOn(s, t as Sounding),
  resume: start,
  unclear: (s, _, t) => unclear(s, t),
  // The screen takes it: a visit does not know what is offered beside it.
  take: s => only(s),
}

/** Takes back the latest verdict of this visit that stands. */
const takeBack = (s: Session): Step => {
  const verdict = countedEvents(s.events).findLast(e => e.kind === 'verdict')
  if (!verdict) return only(say(s, { kind: 'nothingToTakeBack' }))
  const rep = verdict.kind === 'verdict' ? verdict.rep : null
  return only(s, append([{ kind: 'takeBack', of: verdict.id }], { kind: 'takenBack', rep }))
}

/** Nothing sounds any more, and what was open stays unjudged. */
const stopped = (s: Session, note: Remark): Step => {
  const held = hold(s, note)
  return only(held.session, ...held.effects, append(leftOver(s), { kind: 'noted' }))
}

const wait = (s: Session): Step => {
  if (s.phase !== 'going') return start(s)
  if (s.current?.over && !s.current.verdict) return only(say(s, { kind: 'waiting' }))
  if (s.current?.over && follows(s)) return conclude(s)
  return stopped(s, { kind: 'hold' })
}

const rested = (s: Session, events: number): Step =>
  s.events.length === events && s.current?.over && follows(s) ? conclude(s) : only(s)

const moveTo = (s: Session, to: Tempo): Step => {
  const top = s.ladder.rungs.at(-1) as Tempo
  if (compareHard(to, top, directionOf(s.ladder.rungs)) > 0)
    return only(say(s, { kind: 'refused', text: aboveLastRung(top, s.setup.opening.rules.capped === true) }))
  return only(s, append([{ kind: 'move', to }], { kind: 'moved' }))
}

const entered = (s: Session, take: Sounding): Step => {
  const session: Session = { ...s, current: { ...take, entered: true }, last: null, fresh: [] }
  if (!s.last || s.last.verdict) return only({ ...session, note: { kind: 'none' } })
  const counted: Session = { ...session, unanswered: s.unanswered + 1, note: { kind: 'unanswered' } }
  return only(counted, append([unjudged(s.last, 'silent')], { kind: 'noted' }))
}

const over = (s: Session, take: Sounding): Step => {
  const session: Session = { ...s, current: { ...take, over: true } }
  if (take.verdict) return follows(session) ? settle(session, take, lastSignals(s)) : only(session)
  const most = s.setup.pedals === 2 ? MOST_UNANSWERED : MOST_UNANSWERED + 1
  if (s.setup.after === 'wait') return only(say(session, { kind: 'waiting' }))
  if (s.unanswered + 1 >= most)
    return only(say(session, { kind: 'waiting' }), { kind: 'signal', role: 'unanswered' })
  return launch(session, restAfter(s.setup, take, true, true), ['unanswered'], ASK_AFTER)
}

const interrupted = (s: Session, text: string): Step => {
  const note: Remark = { kind: 'trouble', text }
  return s.phase === 'going' ? stopped(s, note) : only(say({ ...s, hearing: null }, note))
}

/** It goes on with the same; where the time was over, for two more minutes. */
const stay = (s: Session): Step => {
  const over = s.asks === 'time'
  const begun = start({ ...s, asks: null, ...(over ? { slot: 'left' } : {}) })
  return only(begun.session, ...(over ? [{ kind: 'more' } as const] : []), ...begun.effects)
}

/** The next state and what is to be done, in order. Pure: time is in the frames, chance nowhere. */
export const reduce = (s: Session, a: Action): Step => {
  if (s.phase === 'done' && a.kind !== 'stored') return only(s)
  const onward = answered(s, a)
  if (onward) return onward === 'finish' ? finish(s) : onward === 'stay' ? stay(s) : only(s)
  switch (a.kind) {
    case 'pedal': {
      const frame = a.frame ?? 0
      const meaning = judge(momentOf(s, frame), a.pedal, s.setup.pedals)
      return meanings[meaning](a.pedal === 'both' ? s : { ...s, fresh: [] }, frame, judgedTake(s, frame))
    }
    case 'entered':
      return s.current?.rep === a.rep ? entered(s, s.current) : only(s)
    case 'over':
      if (a.rep === LISTENED) return s.hearing ? listened(s) : only(s)
      if (s.current?.rep !== a.rep || legOf(s.current) !== (a.leg ?? 0)) return only(s)
      return waitsAtEnd(s.current) ? holdNote(s, s.current) : over(s, s.current)
    case 'started':
      return s.next?.rep === a.rep
        ? only({ ...s, last: s.current && { ...s.current, over: true }, current: s.next, next: null })
        : only(s)
    case 'takeBack':
      return takeBack(s)
    case 'wait':
      return wait(s)
    case 'finish':
      return finish(s)
    case 'begin':
      return s.phase === 'going'
        ? only(s)
        : launch({ ...s, current: null, last: null }, s.setup.rest.clean, [])
    case 'listen':
      return listen(s, wait)
    case 'nextRung': {
      const to = s.ladder.rungs[s.ladder.at + a.by]
      return to ? moveTo(s, to) : only(say(s, { kind: 'refused', text: NO_FURTHER_RUNG }))
    }
    case 'tempo':
      return moveTo(s, a.to)
    case 'music':
      return retune(
        say({ ...s, setup: { ...s.setup, form: a.form, air: true } }, { kind: 'refused', text: a.text }),
      )
    case 'refuse':
      return only(say(s, { kind: 'refused', text: a.text }))
    case 'interrupted':
      return interrupted(s, a.text)
    case 'stored':
      return stored(s, a.events, a.then)
    case 'rested':
      return rested(s, a.events)
    case 'time':
      return timed(s, a.is)
    case 'notStored':
      return hold(s, { kind: 'trouble', text: a.text })
  }
}

/** What is only listened to is no repetition: those are counted from 1. */
const LISTENED = 0

/** The section as it is to be in the end: its click at the goal, once, with the guide where the rhythm is known. */
export const goalTake = (setup: Setup): Sounding => ({
  rep: LISTENED,
  tempo: setup.goal,
  program: compile(formAt(setup, setup.goal), setup.goal, {
    ...clickOf(setup, setup.goal),
    rate: setup.rate,
  }),
  entered: false,
  over: false,
  verdict: null,
})

/** The goal once, and a press goes on; what sounds until then is interrupted as by `wait`, and waits for its verdict if it is over. */
const listen = (s: Session, wait: (s: Session) => Step): Step => {
  const held: Step = s.phase === 'going' ? wait(s) : { session: s, effects: [] }
  if (held.session.phase === 'going' || held.session.phase === 'done') return held
  const take = goalTake(s.setup)
  return {
    session: { ...held.session, hearing: take, note: { kind: 'listen', tempo: take.tempo } },
    effects: [...held.effects, { kind: 'play', take, after: 'now' }],
  }
}

/** It was heard to its end. */
const listened = (s: Session): Step => ({
  session: { ...s, hearing: null, note: { kind: 'listened' } },
  effects: [],
})
