import { compile } from '../click/compile.ts'
import type { Session, Setup, Sounding, Step } from './session.ts'
import { clickOf, formAt } from './sounding.ts'

/** What is only listened to is no repetition: those are counted from 1. */
export const LISTENED = 0

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
export const listen = (s: Session, wait: (s: Session) => Step): Step => {
  const held: Step = s.phase === 'going' ? wait(s) : { session: s, effects: [] }
  if (held.session.phase === 'going' || held.session.phase === 'done') return held
  const take = goalTake(s.setup)
  return {
    session: { ...held.session, hearing: take, note: { kind: 'listen', tempo: take.tempo } },
    effects: [...held.effects, { kind: 'play', take, after: 'now' }],
  }
}

/** It was heard to its end. */
export const listened = (s: Session): Step => ({
  session: { ...s, hearing: null, note: { kind: 'listened' } },
  effects: [],
})
