import type { Program } from '../click/program.ts'
import { type Beat, beatsOf } from '../click/program.ts'
import type { Moment } from './pedal-table.ts'
import type { Session, Sounding, Step } from './session.ts'

type Waiting = NonNullable<Sounding['legs']>

/** Which leg of a repetition sounds, where marks wait for the pedal; 0 = the first, or music without such marks. */
export const legOf = (t: Sounding): number => t.legs?.at ?? 0

/** Whether the music waits for the pedal at the end of this leg. */
export const waitsAtEnd = (t: Sounding): boolean => t.legs !== undefined && t.legs.at < t.legs.all.length - 1

/** Where a press falls that concerns a hold: at it, before it, or in the beats that prepare what follows. Else null. */
export const momentInLegs = (t: Sounding, heard: number): Moment | null => {
  if (t.over || !t.legs) return null
  const { firstNote, lastBeat } = t.program
  if (heard < firstNote && !t.legs.held) return legOf(t) > 0 ? 'early' : null
  if (!waitsAtEnd(t)) return null
  // As with a verdict, the foot need not wait for the end of the last beat.
  return t.legs.held || heard >= lastBeat ? 'held' : 'early'
}

/**
 * Beats of the passage that have been heard, through all legs so far, and whether the music stands at the last of them:
 * held, or in the beats that prepare what follows.
 */
export const beatsHeard = (
  t: Sounding,
  frame: number,
): { readonly beats: readonly Beat[]; readonly pausing: boolean } => ({
  beats: [
    ...(t.legs?.all.slice(0, t.legs.at) ?? []).flatMap(p => beatsOf(p).filter(b => b.frame >= p.firstNote)),
    ...beatsOf(t.program).filter(b => b.frame >= t.program.firstNote && b.frame <= frame),
  ],
  pausing: t.legs?.held === true || frame < t.program.firstNote,
})

/** The beat that sounds or was the last to sound; null in the rest before a repetition. */
export const beatNow = (t: Sounding, frame: number | null): Beat | null =>
  (frame === null ? undefined : beatsOf(t.program).findLast(b => b.frame <= frame)) ??
  beatsHeard(t, -1).beats.at(-1) ??
  null

/** The written end of the held note has been heard: from here on the music waits. */
export const holdNote = (s: Session, take: Sounding): Step => ({
  session: {
    ...s,
    current: { ...take, legs: { ...(take.legs as Waiting), held: true } },
    note: { kind: 'held', pedals: s.setup.pedals },
  },
  effects: [],
})

/** The next leg follows: at once, or where the held note ends as written when the foot came before that. */
export const goOn = (s: Session, held: Sounding): Step => {
  const legs = held.legs as Waiting
  const at = legs.at + 1
  const take: Sounding = { ...held, program: legs.all[at] as Program, legs: { ...legs, at, held: false } }
  return {
    session: { ...s, current: take, note: { kind: 'none' } },
    effects: [{ kind: 'play', take, after: 'current' }],
  }
}
