import type { Body } from '../ladder/event.ts'
import { LEAST_AIR, MOST_AIR } from '../ladder/history.ts'
import type { Session, Sounding } from './session.ts'

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
