import type { Frac } from '../music/fraction.ts'

/** The click's own roles: each can be as loud as the player wants. */
export const CLICK_ROLES = ['downbeat', 'group', 'beat', 'sub', 'countIn', 'rest', 'guide', 'breath'] as const

/** These, and the small signals that answer the pedal. Each has one voice. */
export const ROLES = [...CLICK_ROLES, 'row', 'up', 'down', 'slip', 'unanswered', 'unclear'] as const
export type Role = (typeof ROLES)[number]

/** One sound. `frame` counts from the program's start; measure 0 is the pick-up, count-in measures are negative. */
export type Onset = {
  readonly frame: number
  readonly role: Role
  readonly measure: number
  readonly beat: number
}

export type SegmentKind = 'rest' | 'countIn' | 'passage'

/** What the sound process plays in one go. All numbers are frames from the program's start; segments are contiguous. */
export type Program = {
  readonly rate: number
  readonly frames: number
  readonly onsets: readonly Onset[]
  readonly segments: readonly { readonly kind: SegmentKind; readonly frame: number }[]
  /** First note of the passage (its pick-up, if any). */
  readonly firstNote: number
  /** From here on a verdict is taken: the start of the last measure, or the last beat of a passage of one measure. */
  readonly verdictFrom: number
  /** The last beat's start, whether it clicks or not. */
  readonly lastBeat: number
  /** Written end of the passage. */
  readonly end: number
  /** Beats of the passage that do not click, for the eye and for the place of a slip; none where all click. */
  readonly unheard?: readonly Omit<Onset, 'role'>[]
  readonly tone?: Tone
}

/**
 * A sustained tone to tune to, from one frame of the program to another (before its end); its ends are faded inside.
 * `dbfs` is its peak at master ff; the master turns it down with the clicks.
 */
export type Tone = {
  readonly hz: number
  readonly dbfs: number
  readonly from: number
  readonly to: number
}

/** Which beats click: those of these numbers, and so many measures on, so many off (a pick-up is on). */
export type Only = {
  readonly beats?: readonly number[]
  readonly measures?: { readonly on: number; readonly off: number }
}

/**
 * What the guide voice taps: groups from bar line to bar line (ratios of one group, and its length), or notes at their
 * own places in the form, in order.
 */
export type Guide =
  | { readonly ratios: readonly number[]; readonly group: Frac }
  | { readonly onsets: readonly Frac[] }

/** How a form becomes a program. */
export type CompileOptions = {
  /** Measures of count-in (0 = none); lengthened to two clicks and 1.5 s. */
  readonly countIn: number
  /** After a pick-up the short count-in (the missing part alone) may serve from the second repetition on. */
  readonly again?: boolean
  /** Clicks to a beat (to the shortest one, where beats are unequal): 1 = beats only. */
  readonly subdivide: number
  /** Seconds of silence before the count-in, and the small signals heard in it. */
  readonly rest?: number
  readonly signals?: readonly { readonly role: Role; readonly after: number }[]
  /** Frames a second. */
  readonly rate: number
  /** The note value that is counted, where it is not that of the tempo: in 2, in 1, subdivided. */
  readonly pulse?: Frac
  /** The count-in always clicks. */
  readonly only?: Only
  /** No clicks while the tempo slows down, until it has. */
  readonly freeRitardando?: true
  /** Counted rests before the entrance, in measures: softly clicked, instead of a count-in. */
  readonly rests?: number
  readonly guide?: Guide
}

/** A program on the sound process's timeline: starts at frame `at`, cut from frame `cut` of the timeline on. */
export type Placed = {
  readonly id: number
  readonly at: number
  readonly program: Program
  readonly cut?: number
}

/** A beat of a program, clicked or not. */
export type Beat = Omit<Onset, 'role'>

const known = new WeakMap<Program, readonly Beat[]>()

/** All beats of a program in order, count-in included; also those that do not click. */
export const beatsOf = (p: Program): readonly Beat[] => {
  const beats =
    known.get(p) ??
    [...p.onsets.filter(o => o.beat > 0 && o.role !== 'sub'), ...(p.unheard ?? [])].sort(
      (a, b) => a.frame - b.frame,
    )
  known.set(p, beats)
  return beats
}
