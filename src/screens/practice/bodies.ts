import type { Body } from '../../ladder/event.ts'
import type { Take } from './session.ts'

/** What is written of a repetition that was judged. */
export const verdictBody = (t: Take, clean: boolean, whole: boolean, place?: string): Body => ({
  k: 'verdict',
  rep: t.rep,
  tempo: t.tempo,
  whole,
  clean,
  ...(place ? { place } : {}),
})

/** What is written of one that was heard and not judged. */
export const unjudged = (t: Take, why: 'silent' | 'unclear' | 'interrupted'): Body => ({
  k: 'unjudged',
  rep: t.rep,
  tempo: t.tempo,
  why,
})
