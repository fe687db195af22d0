import type { Tempo } from '../music/tempo.ts'
import type { Why } from './slots.ts'

/** One repetition of a section; a tempo that is not known yet is null. */
export type PlannedTake = { readonly key: string; readonly label: string; readonly tempo: Tempo | null }

/** What is done in a stretch of the day. */
type Task =
  | { readonly kind: 'fundamentals' | 'rest' }
  /** A visit on a section. It ends when a rung is decided: at most `over` seconds late. */
  | {
      readonly kind: 'section'
      readonly key: string
      readonly label: string
      /** Where the visit begins; null = it looks for its start, or (again) goes on where it stopped. */
      readonly from: Tempo | null
      readonly again: boolean
      readonly over: number
      readonly ceiling: Tempo | null
      readonly goal: Tempo
      /** Upper end of a goal that is a range. */
      readonly goalTop?: Tempo
      /** Nobody knows the goal yet. */
      readonly open?: true
      /** Shortly before the date no rung above this one; null = no such limit. */
      readonly top: Tempo | null
      /** Minutes until the ceiling is passed, all clean; null = nothing to pass, or not from the beginning. */
      readonly toPass: number | null
      /** Why it is in this day. */
      readonly why: Why
    }
  /** Two neighbors over their seam, then as one. */
  | { readonly kind: 'seam'; readonly key: string; readonly label: string; readonly from: Tempo | null }
  /** The first repetition of the day, one only. */
  | { readonly kind: 'cold'; readonly take: PlannedTake }
  /** Once at the goal, or a few repetitions without a sound: between two visits of the same music. */
  | { readonly kind: 'goal'; readonly take: PlannedTake }
  | { readonly kind: 'silent'; readonly take: PlannedTake; readonly times: number }
  /** Whole passages, once each, at the end of the day. */
  | { readonly kind: 'through'; readonly takes: readonly PlannedTake[] }
  /** Whole passages of a piece once from the entrance, as on the day; `cold` = before anything else of them. */
  | {
      readonly kind: 'run'
      readonly piece: string
      readonly cold: boolean
      readonly takes: readonly PlannedTake[]
    }
  /** Two slow repetitions of the worst spot. */
  | { readonly kind: 'slow'; readonly take: PlannedTake; readonly times: number }
  /** On the day itself: entries and exposed spots once, between these tempos, without verdicts. */
  | {
      readonly kind: 'entries'
      readonly piece: string
      readonly spots: readonly {
        readonly key: string
        readonly label: string
        readonly from: Tempo
        readonly to: Tempo
      }[]
    }

/** `at` = minutes from the start of the day's practice; both in whole or half minutes. */
export type Item = Task & { readonly at: number; readonly minutes: number }

/** A task that still has to find its place. */
export type Unplaced = { readonly task: Task; readonly minutes: number }
