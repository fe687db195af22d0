import { compile } from '../../click/compile.ts'
import { formAt, type Session, type Setup, type Step, type Take } from './session.ts'

/** What is only listened to is no repetition: those are counted from 1. */
export const LISTENED = 0

/** The section as it is to be in the end: its click at the goal, once, with the guide where the rhythm is known. */
export const goalTake = (setup: Setup): Take => ({
  rep: LISTENED,
  tempo: setup.goal,
  program: compile(formAt(setup, setup.goal), setup.goal, { ...setup.click, rate: setup.rate }),
  entered: false,
  over: false,
  verdict: null,
})

/** Plays the goal while nothing else goes on: before the first press, or in a hold. Nothing of it is counted or kept. */
export const listen = (s: Session): Step => {
  const take = goalTake(s.setup)
  return {
    session: { ...s, hearing: take, note: { k: 'listen', tempo: take.tempo } },
    effects: [{ k: 'play', take, after: 'now' }],
  }
}

/** It was heard to its end. */
export const listened = (s: Session): Step => ({
  session: { ...s, hearing: null, note: { k: 'listened' } },
  effects: [],
})
