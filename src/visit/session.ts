import { type ClickHere, type ClickPlan, clickAt } from '../click/by-tempo.ts'
import { inLegs, type Legs } from '../click/legs.ts'
import { longestAir } from '../click/one-breath.ts'
import type { Program, Role } from '../click/program.ts'
import { tempoMap } from '../click/tempo-map.ts'
import type { Body, Event, Rules, State } from '../ladder/event.ts'
import { fold } from '../ladder/fold.ts'
import { playedForm } from '../music/changes.ts'
import { type Form, measures } from '../music/form.ts'
import type { LongRest } from '../music/long-rests.ts'
import { measureLength } from '../music/meter.ts'
import { measureWords } from '../music/place.ts'
import type { Rhythm } from '../music/rhythm.ts'
import { sameTempo, type Tempo } from '../music/tempo.ts'
import { beatsHeard, legOf, momentInLegs } from './legs.ts'
import type { Moment } from './pedal-table.ts'
import { placeOfBeat } from './place.ts'
import type { SlotState } from './slot.ts'

/** What is practiced and how, fixed when the screen opens. */
export type Setup = {
  /** Whose ladder this is: the key of the visit. */
  readonly key: string
  readonly form: Form
  /** What each measure is called in the part, pick-up included. */
  readonly numbers: readonly string[]
  /** Goal of the even rhythm: tempo changes inside the passage are left out well below it. */
  readonly goal: Tempo
  /** Upper end of a goal that is a range. */
  readonly top?: Tempo
  /** How the notes are altered; null = as written. The form then is the altered one. */
  readonly rhythm: Rhythm | null
  readonly opening: { readonly rungs: readonly Tempo[]; readonly at: number; readonly rules: Rules }
  /** Highest tempo completed on earlier visits. */
  readonly ceiling: Tempo | null
  readonly click: ClickPlan
  /** Where to breathe is marked: a clean repetition tells how long one breath was. */
  readonly air?: true
  /** Long rests inside the passage, where its notes are known. */
  readonly longRests?: readonly LongRest[]
  /** The visit ends by itself after so many clean ones or so many tries. */
  readonly ends?: { readonly clean: number; readonly tries: number }
  /** After every ten repetitions one at the goal: one beat of it, or the whole section. */
  readonly fast?: 'beat' | 'goal'
  readonly pedals: 1 | 2
  readonly after: 'wait' | 'go-on'
  /** Seconds between a verdict and the count-in; `asLong` = at least as long as what was played. */
  readonly rest: { readonly clean: number; readonly slip: number; readonly asLong?: boolean }
  /** Frames a second. */
  readonly rate: number
}

/** One sounding of the passage: rest, count-in and music. */
export type Take = {
  readonly rep: number
  readonly tempo: Tempo
  /** Seconds of the longest breath in it, where it is known. */
  readonly air?: number
  /** What sounds: all of it, or one leg where marks wait for the pedal. */
  readonly program: Program
  /** Where marks wait: all legs, the one that sounds, and whether the music is held at its end. */
  readonly legs?: { readonly all: Legs; readonly at: number; readonly held: boolean }
  /** Its first note has been heard; its written end has been heard. */
  readonly entered: boolean
  readonly over: boolean
  /** The verdict on disk, if there is one. */
  readonly verdict: { readonly id: string; readonly clean: boolean; readonly whole: boolean } | null
}

export type Phase = 'ready' | 'going' | 'hold' | 'done'

/** What the screen says was understood, in the words of `words.ts`. */
export type Note =
  | {
      readonly k:
        | 'none'
        | 'notYet'
        | 'heard'
        | 'clean'
        | 'slip'
        | 'cut'
        | 'hold'
        | 'already'
        | 'unclear'
        | 'unanswered'
    }
  | {
      readonly k:
        | 'waiting'
        | 'takenBack'
        | 'nothingToTakeBack'
        | 'suggest'
        | 'goal'
        | 'start'
        | 'listened'
        | 'back'
    }
  | { readonly k: 'up' | 'stays' | 'down' | 'moved' | 'listen'; readonly tempo: Tempo }
  | { readonly k: 'place'; readonly measure: string }
  | { readonly k: 'held'; readonly pedals: 1 | 2 }
  | { readonly k: 'trouble' | 'refused'; readonly text: string }

export type Session = {
  readonly setup: Setup
  readonly phase: Phase
  readonly events: readonly Event[]
  readonly ladder: State
  /** The take that sounds or waits for its verdict, the one queued behind it, and the one before. */
  readonly current: Take | null
  readonly next: Take | null
  readonly last: Take | null
  /** The goal while it is only listened to: before the first press or in a hold. */
  readonly hearing: Take | null
  readonly reps: number
  /** Repetitions in a row without an answer. */
  readonly unanswered: number
  /** How often the one at the goal has had its turn. */
  readonly fasts: number
  /** Ids of verdicts that the latest press wrote: what both pedals at once take back. */
  readonly fresh: readonly string[]
  readonly note: Note
  /** Of a slot in the plan of a day. */
  readonly slot: SlotState
}

export type Effect =
  | { readonly k: 'append'; readonly bodies: readonly Body[]; readonly then: Then }
  | { readonly k: 'play'; readonly take: Take; readonly after: 'now' | 'current' }
  | { readonly k: 'signal'; readonly role: Role }
  | { readonly k: 'stop' }
  | { readonly k: 'unqueue' }
  /** The slot goes on for two more minutes. */
  | { readonly k: 'more' }

/** What to do once the bodies are on disk. */
export type Then =
  /** `counting`: the press fell into the count-in of the next take. */
  | {
      readonly k: 'judged'
      readonly rep: number
      readonly clean: boolean
      readonly whole: boolean
      readonly counting: boolean
    }
  | { readonly k: 'takenBack'; readonly rep: number | null; readonly hold: boolean }
  | { readonly k: 'moved' | 'unclear' | 'done' | 'noted' }
  | { readonly k: 'restart' }

export type Step = { readonly session: Session; readonly effects: readonly Effect[] }

/** Before anything is on disk the ladder is that of an opening event which will be written with the first repetition. */
const opened = (setup: Setup): Event => ({
  ...openingBody(setup),
  id: '',
  session: '',
  n: 0,
  visit: '',
  time: '',
  offset: 0,
})

export const openingBody = (setup: Setup): Body & { k: 'visit' } => ({
  k: 'visit',
  key: setup.key,
  ...setup.opening,
})

/** The ladder after the events of the visit; throws RangeError when a visit has no rungs. */
export const ladderOf = (setup: Setup, events: readonly Event[]): State => {
  const state = fold(events.length > 0 ? events : [opened(setup)])
  if (!state) throw new RangeError('a visit needs at least one rung')
  return state
}

export const newSession = (setup: Setup): Session => ({
  setup,
  phase: 'ready',
  events: [],
  ladder: ladderOf(setup, []),
  current: null,
  next: null,
  last: null,
  hearing: null,
  reps: 0,
  unanswered: 0,
  fasts: 0,
  fresh: [],
  note: { k: 'start' },
  slot: 'none',
})

/** What sounds, be it played or only listened to. */
export const sounding = (s: Session): Take | null => s.hearing ?? s.current

export const rungOf = (s: State): Tempo => s.rungs[s.at] as Tempo

/** Where a press falls, from the frame of the current take that is heard at that time (null = nothing sounds). */
export const momentOf = (s: Session, frame: number | null): Moment => {
  if (s.phase !== 'going' || !s.current) return s.phase === 'ready' ? 'ready' : 'hold'
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
export const judgedTake = (s: Session, frame: number | null): Take | null =>
  s.current && !s.current.over && legOf(s.current) === 0 && (frame ?? 0) < s.current.program.firstNote
    ? s.last
    : s.current

/** Whether the count-in is heard at this frame. */
export const counting = (take: Take | null, frame: number | null): boolean => {
  const from = take?.program.segments.find(x => x.kind === 'countIn')?.frame
  return from !== undefined && frame !== null && frame >= from && !take?.entered
}

/** Length of the last measure at a tempo, in seconds: the gap when the music goes on by itself. */
const measureSeconds = (s: Session, tempo: Tempo): number => {
  const bar = measures(s.setup.form).at(-1)
  return bar ? tempoMap(s.setup.form, tempo, 1).lasting(measureLength(bar.meter), bar.from) : 0
}

/** Signals begin this long after the rest does and follow each other at this distance. Seconds. */
const FIRST_SIGNAL = 0.12
const SIGNAL_EVERY = 0.16

/** The passage as it is played at a tempo. */
export const formAt = (
  { form, goal, rhythm }: Pick<Setup, 'form' | 'goal' | 'rhythm'>,
  tempo: Tempo,
): Form => (rhythm ? form : playedForm(form, tempo, goal))

/** How the rung at a tempo is clicked. */
export const clickOf = ({ click, form, goal }: Pick<Setup, 'click' | 'form' | 'goal'>, t: Tempo): ClickHere =>
  clickAt(click, form, t, goal)

/** The next take at the ladder's rung. `rest` in seconds; none = the count-in begins at once. */
export const makeTake = (
  s: Session,
  rest: number,
  signals: readonly Role[],
  firstSignal = FIRST_SIGNAL,
): Take => {
  const tempo = rungOf(s.ladder)
  const again = rest > 0 && s.current !== null && sameTempo(s.current.tempo, tempo) && s.phase === 'going'
  const gap = rest > 0 && s.setup.after === 'go-on' ? measureSeconds(s, tempo) : 0
  const played = formAt(s.setup, tempo)
  const legs = inLegs(played, tempo, {
    ...clickOf(s.setup, tempo),
    again,
    rest: Math.max(rest, gap),
    signals: signals.map((role, i) => ({ role, after: firstSignal + i * SIGNAL_EVERY })),
    rate: s.setup.rate,
  })
  const waits = legs.length > 1 ? { legs: { all: legs, at: 0, held: false } } : {}
  return {
    rep: s.reps + 1,
    tempo,
    ...(s.setup.air ? { air: longestAir(played, tempo).seconds } : {}),
    program: legs[0],
    ...waits,
    entered: false,
    over: false,
    verdict: null,
  }
}

/** What a measure of the form (0 = the pick-up) is called in the part. */
export const numberOf = (setup: Setup, measure: number): string => {
  const index = measures(setup.form).findIndex(m => m.number === measure)
  return index in setup.numbers ? measureWords(setup.numbers, index) : String(measure)
}

/** Where the music was stopped, one beat before the press, as a place of the part: "43.2"; in a hold the held beat. */
export const placeOf = ({ setup }: Session, take: Take, frame: number): string => {
  const { tempo } = take
  const { beats, pausing } = beatsHeard(take, frame)
  return placeOfBeat(
    { ...setup, form: formAt(setup, tempo), tempo, click: clickOf(setup, tempo) },
    Math.max(0, beats.length - (pausing ? 1 : 2)),
  )
}
