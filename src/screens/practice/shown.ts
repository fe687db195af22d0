import type { Size } from '../../terminal/screen-writer.ts'
import type { Session } from '../../visit/session.ts'
import type { Motion } from '../motion.ts'
import type { KeyNames } from './words.ts'

/** All that the practice screen shows beside the session itself. */
export type Shown = {
  readonly session: Session
  /** Frame of the current take that is heard; null = nothing sounds. */
  readonly frame: number | null
  readonly seconds: number
  /** Whole minutes left in the slot; null = there is none. */
  readonly minutesLeft?: number | null
  /** "Weir Street Overture   m. 41-44", and the days to the date, if there is one. */
  readonly title: string
  readonly date: string
  /** The player's own words on the music. */
  readonly music: string
  /** What a cold take would be, while it can still be one; else empty. */
  readonly cold: string
  /** The keys that say after a slip what went wrong; null = nothing is kept. */
  readonly wrongs: readonly string[] | null
  /** What the keys do, and what one pedal can choose now; empty where a press has one meaning. */
  readonly hints: readonly string[]
  readonly choice: string
  /** All keys but the pedals are locked. */
  readonly locked?: boolean
  /** What is offered beside the ladder, and its key; else empty. */
  readonly beside: string
  readonly keys: KeyNames
  /** Today's verdicts before this visit. */
  readonly earlier: { readonly clean: number; readonly verdicts: number }
  /** Something about the sound that the player should know, else empty. */
  readonly sound: string
  /** Digits typed so far for a tempo by hand. */
  readonly typing: string
  /** How the mark of the beat may move. */
  readonly motion: Motion
  readonly size: Size
}
