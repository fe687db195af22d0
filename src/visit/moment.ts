import { layOut } from '../click/clicks.ts'
import type { CompileOptions } from '../click/program.ts'
import type { Form } from '../music/form.ts'
import { compare, div, frac } from '../music/fraction.ts'
import { beatPlaceAt } from '../music/place.ts'
import { type Rhythm, writtenForm } from '../music/rhythm.ts'
import type { Tempo } from '../music/tempo.ts'
import { beatsHeard, legOf, momentInLegs } from './legs.ts'
import type { Moment } from './pedal-table.ts'
import type { Session, Sounding } from './session.ts'
import { clickOf, formAt } from './sounding.ts'

/** Where a press falls, from the frame of the current take that is heard at that time (null = nothing sounds). */
export const momentOf = (s: Session, frame: number | null): Moment => {
  if (!s.current) return s.phase === 'ready' ? 'ready' : 'hold'
  const { current, last, setup } = s
  const heard = current.over ? Infinity : (frame ?? 0)
  const within = momentInLegs(current, heard)
  if (within) return within
  if (heard < current.program.firstNote) {
    if (!last) return 'afterCut'
    if (!last.verdict) return 'open'
    return last.verdict.clean ? 'afterClean' : last.verdict.whole ? 'afterSlip' : 'afterCut'
  }
  if (current.verdict) return current.verdict.clean ? 'settledClean' : 'settledSlip'
  const opens = setup.pedals === 2 ? current.program.verdictFrom : current.program.lastBeat
  return heard < opens ? 'early' : 'open'
}

/** The repetition that a press at this frame speaks of. */
export const judgedTake = (s: Session, frame: number): Sounding | null =>
  s.current && !s.current.over && legOf(s.current) === 0 && frame < s.current.program.firstNote
    ? s.last
    : s.current

/** Whether the count-in is heard at this frame. */
export const counting = (take: Sounding | null, frame: number | null): boolean => {
  const from = take?.program.segments.find(x => x.kind === 'countIn')?.frame
  return from !== undefined && frame !== null && frame >= from && !take?.entered
}

/** Where the music was stopped, one beat before the press, as a place of the part: "43.2"; in a hold the held beat. */
export const placeOf = ({ setup }: Session, take: Sounding, frame: number): string => {
  const { tempo } = take
  const { beats, pausing } = beatsHeard(take, frame)
  return placeOfBeat(
    { ...setup, form: formAt(setup, tempo), tempo, click: clickOf(setup, tempo) },
    Math.max(0, beats.length - (pausing ? 1 : 2)),
  )
}

/** What was played: the form at this tempo, how it was clicked, and what its measures are called. */
type Played = {
  readonly form: Form
  readonly tempo: Tempo
  readonly click: Omit<CompileOptions, 'rate'>
  readonly numbers: readonly string[]
  readonly rhythm: Rhythm | null
}

/**
 * A beat of the music (0 = its first one, in the note value that is counted) as a place of the part: "43.2" is the second
 * beat of the written meter, "43+3/16" lies between. The same reading as in the files, whatever was counted.
 */
export const placeOfBeat = ({ form, tempo, click, numbers, rhythm }: Played, beat: number): string => {
  const { beats, unheard } = layOut(form, tempo, click)
  const all = [...beats.filter(b => b.role !== 'sub'), ...unheard].sort((a, b) => compare(a.at, b.at))
  const at = all[beat]?.at
  const over = rhythm?.over ?? 1
  return at ? beatPlaceAt(div(at, frac(over)), { form: writtenForm(form, over), numbers }) : ''
}
