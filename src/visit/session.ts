import type { ClickPlan } from '../click/by-tempo.ts'
import type { Legs } from '../click/legs.ts'
import type { Program, Role } from '../click/program.ts'
import type { Body, Event, LadderState } from '../ladder/event.ts'
import { fold } from '../ladder/fold.ts'
import type { Rules } from '../ladder/rules.ts'
import type { Form } from '../music/form.ts'
import type { LongRest } from '../music/groups.ts'
import type { Letters } from '../music/place.ts'
import type { Rhythm } from '../music/rhythm.ts'
import type { Tempo } from '../music/tempo.ts'
import type { Pedal } from './pedal-table.ts'

/** What is practiced and how, fixed when the screen opens. */
export type Setup = {
  /** Whose ladder this is: the key of the visit. */
  readonly key: string
  readonly form: Form
  /** What each measure is called in the part, pick-up included. */
  readonly numbers: readonly string[]
  /** What rehearsal mark each measure is known by. */
  readonly beside?: Letters
  /** Goal of the even rhythm: tempo changes inside the passage are left out well below it. */
  readonly goal: Tempo
  /** Upper end of a goal that is a range. */
  readonly top?: Tempo
  /** Nobody knows the goal yet. */
  readonly open?: true
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
export type Sounding = {
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

type Phase = 'ready' | 'going' | 'hold' | 'done'

/** What the screen says was understood, in the words of `words.ts`. */
export type Remark =
  | {
      readonly kind:
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
      readonly kind:
        | 'waiting'
        | 'takenBack'
        | 'nothingToTakeBack'
        | 'suggest'
        | 'goal'
        | 'start'
        | 'listened'
        | 'back'
    }
  | { readonly kind: 'up' | 'stays' | 'down' | 'moved' | 'listen'; readonly tempo: Tempo }
  | { readonly kind: 'place'; readonly measure: string }
  | { readonly kind: 'held'; readonly pedals: 1 | 2 }
  | { readonly kind: 'trouble' | 'refused'; readonly text: string }

/** Where the time of a slot stands: there is some left, it is over, or over for a minute. */
export type SlotTime = 'left' | 'over' | 'late'

/** The same in a session; none = it has all the time. */
export type SlotState = 'none' | SlotTime

/** Why the player is asked whether to go on: the time is over, or the last rung is done. */
export type Asks = 'time' | 'goal'

export type Session = {
  readonly setup: Setup
  readonly phase: Phase
  readonly events: readonly Event[]
  readonly ladder: LadderState
  /** The take that sounds or waits for its verdict, the one queued behind it, and the one before. */
  readonly current: Sounding | null
  readonly next: Sounding | null
  readonly last: Sounding | null
  /** The goal while it is only listened to: before the first press or in a hold. */
  readonly hearing: Sounding | null
  readonly reps: number
  /** Repetitions in a row without an answer. */
  readonly unanswered: number
  /** How often the one at the goal has had its turn. */
  readonly fasts: number
  /** Ids of verdicts that the latest press wrote: what both pedals at once take back. */
  readonly fresh: readonly string[]
  readonly note: Remark
  /** Of a slot in the plan of a day. */
  readonly slot: SlotState
  /** Asked now; null = nothing is. */
  readonly asks: Asks | null
  /** It was asked once whether to go on after the last rung. */
  readonly handed: boolean
}

export type Effect =
  | { readonly kind: 'append'; readonly bodies: readonly Body[]; readonly then: Then }
  | { readonly kind: 'play'; readonly take: Sounding; readonly after: 'now' | 'current' }
  | { readonly kind: 'signal'; readonly role: Role }
  | { readonly kind: 'stop' }
  | { readonly kind: 'unqueue' }
  /** After so many seconds `rested` is told, with this number of events. */
  | { readonly kind: 'rest'; readonly seconds: number; readonly events: number }
  /** The slot goes on for two more minutes. */
  | { readonly kind: 'more' }

/** What to do once the bodies are on disk. */
export type Then =
  /** `counting`: the press fell into the count-in of the next take. */
  | {
      readonly kind: 'judged'
      readonly rep: number
      readonly clean: boolean
      readonly whole: boolean
      readonly counting: boolean
    }
  | { readonly kind: 'takenBack'; readonly rep: number | null }
  | { readonly kind: 'moved' | 'unclear' | 'done' | 'noted' }
  | { readonly kind: 'restart' }

export type Step = { readonly session: Session; readonly effects: readonly Effect[] }

/** Frames are those of the current take's program that are heard at the time of the press; null = nothing sounds. */
export type Action =
  | { readonly kind: 'pedal'; readonly pedal: Pedal; readonly frame: number | null }
  | { readonly kind: 'entered' | 'started'; readonly rep: number }
  /** The end of a leg (0 = the first) has been heard. */
  | { readonly kind: 'over'; readonly rep: number; readonly leg?: number }
  | { readonly kind: 'takeBack' | 'wait' | 'finish' | 'listen' | 'begin' }
  | { readonly kind: 'nextRung'; readonly by: 1 | -1 }
  | { readonly kind: 'tempo'; readonly to: Tempo }
  | { readonly kind: 'interrupted' | 'refuse'; readonly text: string }
  /** The same music with one more place to breathe. */
  | { readonly kind: 'music'; readonly form: Form; readonly text: string }
  | { readonly kind: 'stored'; readonly events: readonly Event[]; readonly then: Then }
  | { readonly kind: 'notStored'; readonly text: string }
  /** The rest after the last verdict is over; `events` = how many there were at its beginning. */
  | { readonly kind: 'rested'; readonly events: number }
  | { readonly kind: 'time'; readonly is: SlotTime }

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

export const openingBody = (setup: Setup): Body & { kind: 'visit' } => ({
  kind: 'visit',
  key: setup.key,
  ...setup.opening,
})

/** The ladder after the events of the visit; throws RangeError when a visit has no rungs. */
export const ladderOf = (setup: Setup, events: readonly Event[]): LadderState => {
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
  note: { kind: 'start' },
  slot: 'none',
  asks: null,
  handed: false,
})

/** What sounds, be it played or only listened to. */
export const sounding = (s: Session): Sounding | null => s.hearing ?? s.current

export const rungOf = (s: LadderState): Tempo => s.rungs[s.at] as Tempo
