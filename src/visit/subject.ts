import type { ClickPlan } from '../click/by-tempo.ts'
import type { Climb, Up } from '../ladder/rules.ts'
import type { RungStep } from '../ladder/rungs.ts'
import type { Ladder } from '../ladder/standing.ts'
import type { Clicked } from '../music/clicked.ts'
import type { Form } from '../music/form.ts'
import type { Frac } from '../music/fraction.ts'
import type { LongRest, Note } from '../music/groups.ts'
import type { Meter } from '../music/meter.ts'
import { type Letters, letterBehind } from '../music/place.ts'
import type { Rhythm } from '../music/rhythm.ts'
import type { Tempo } from '../music/tempo.ts'
import { lettersOfPassage } from '../repertoire/passage-form.ts'
import type { Passage, Piece, Section } from '../repertoire/piece.ts'
import type { Fast } from './fast.ts'

/** What is to be practiced, wherever it came from. */
export type Target = Ladder & {
  readonly title: string
  /** The player's own words on the music. */
  readonly music: string
  readonly readyBy: string | null
  readonly form: Form
  /** What each measure is called, pick-up included. */
  readonly numbers: readonly string[]
  /** What rehearsal mark each measure is known by. */
  readonly beside?: Letters
  /** Nobody knows the goal yet. */
  readonly open?: true
  /** After every ten repetitions one at the goal: of one beat, or of the whole section. */
  readonly fast: Fast | null
  readonly click: ClickPlan
  /** As written, or altered: then form, start and goal are those of the rhythm. */
  readonly rhythm: Rhythm | null
  /** Length of the running notes, for altered rhythms, where someone says; and the rhythms that the player has chosen. */
  readonly run: Frac | null
  readonly rhythms: readonly Rhythm[]
  /** The notes, where a part was read: else none are known. */
  readonly notes: readonly Note[]
  /** What the screen says of the guide voice. */
  readonly said?: string
  /** Counted rests before the entrance, in measures. */
  readonly rests?: number
  /** Long rests inside, where the notes are known. */
  readonly longRests?: readonly LongRest[]
  /** Where it stands in the repertoire: its sections (none = a whole passage) and its first note, counted from the passage's. */
  readonly origin?: {
    readonly piece: Piece
    readonly passage: Passage
    readonly sections: readonly Section[]
    readonly from: Frac
  }
}

/** "run at the weir, m. 41-44 (C+4)"; of a passage named by its measures these alone. */
export const placeText = (p: Passage): string => {
  if (p.measures === undefined) return p.name
  const beside = letterBehind(lettersOfPassage(p), p.measures.replace(/[-,].*/, ''))
  const place = (/^\d/.test(p.measures) ? `m. ${p.measures}` : p.measures) + beside
  return p.name === p.measures ? place : `${p.name}, ${place}`
}

/** What the guide voice taps: every note as written, or nothing. */
export const GUIDES = ['notes', 'none'] as const

/** What a player asks of one visit, beyond what is kept with the music; absent = as it is kept, or as usual. */
export type Wishes = {
  readonly start?: Tempo
  readonly goal?: Tempo
  readonly down?: boolean
  readonly step?: RungStep
  readonly up?: Up
  readonly slips?: number
  readonly dayStart?: number
  /** How the player wants a ladder climbed where neither these wishes nor the passage say. */
  readonly usual?: Climb
  readonly fast?: Fast | null
  /** The music of a quick ladder; a passage has its own. */
  readonly meter?: Meter
  readonly measures?: number
  readonly pickup?: Frac
  readonly clicked?: Clicked
  readonly countIn?: number
  readonly freeRitardando?: boolean
  readonly changesFrom?: NonNullable<Form['changesFrom']>
  /** Counted rests before the entrance, in measures. */
  readonly rests?: number
  readonly run?: Frac
  readonly guide?: (typeof GUIDES)[number]
  readonly rhythm?: Rhythm
}
