import type { Tempo } from '../music/tempo.ts'
import type { Rules } from './rules.ts'

/** What happened in a visit. Tempos are those of the first mark of the music. */
export type Body =
  | {
      readonly kind: 'visit'
      readonly key: string
      readonly rungs: readonly Tempo[]
      readonly at: number
      readonly rules: Rules
      /** Whole seconds of practice before it was written: it is kept with the first verdict, after the first repetition. */
      readonly heard?: number
    }
  | {
      readonly kind: 'verdict'
      readonly rep: number
      readonly tempo: Tempo
      readonly whole: boolean
      readonly clean: boolean
      readonly place?: string
      /** Of a whole clean one: seconds from one place to breathe to the next at most, as it was played. */
      readonly air?: number
    }
  | {
      readonly kind: 'unjudged'
      readonly rep: number
      readonly tempo: Tempo
      readonly why: 'silent' | 'unclear' | 'interrupted'
    }
  | { readonly kind: 'move'; readonly to: Tempo }
  | { readonly kind: 'takeBack'; readonly of: string }

/**
 * A journal event. `n` counts without gaps within `session`; `id` is `<session>-<n>`; `visit` is the id of the
 * visit's opening event. `time` (ISO, UTC) and `offset` (minutes east of UTC) are labels: no count depends on them.
 */
export type Event = Body & {
  readonly id: string
  readonly session: string
  readonly n: number
  readonly visit: string
  readonly time: string
  readonly offset: number
}

/** Where a visit stands after its events. `at` is an index into `rungs`. */
export type LadderState = {
  readonly rungs: readonly Tempo[]
  readonly at: number
  readonly row: number
  readonly slips: number
  readonly drops: number
  /** Greatest tempo completed in this visit. */
  readonly ceiling: Tempo | null
  /** The last rung was completed. */
  readonly goal: boolean
  readonly finding: boolean
}
