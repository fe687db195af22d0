import type { TakeKind } from '../../ladder/key.ts'
import type { Form } from '../../music/form.ts'
import type { Tempo } from '../../music/tempo.ts'
import { DROPS_TO_SUGGEST } from '../../visit/answer.ts'
import { rungOf, type Session } from '../../visit/session.ts'
import { askedChoices } from '../../visit/slot.ts'
import type { Command } from './key-table.ts'
import { CHOICE_WORDS, NOTHING_ASKED } from './words.ts'

/** What comes after this visit, and then the visit again. */
export type Next = {
  readonly kind: 'round' | 'join' | TakeKind
  readonly rung: Tempo
  readonly other?: true
}

/** What is done with `y`: what to say, and the music where it has a place to breathe more. */
export type Done = { readonly text: string; readonly form?: Form }

/** What the screen suggests. It is made outside, since the screen knows one visit only. */
export type Suggestions = {
  /** What could be done now, and its key, in one line; else empty. */
  readonly line: (s: Session) => string
  /** Null where `j` leads on to what is joined; else the sentence why it does not. */
  readonly join: (s: Session) => string | null
  /** What is said after the third stop in a measure. */
  readonly stuck: (measure: string) => string
  /** The line asks for `y`. */
  readonly asks: (s: Session) => boolean
  /** Does what was offered: the section around a measure where it was stopped three times, else what the line says. */
  readonly yes: (s: Session, stuck: string | null) => Promise<Done>
}

/** The measure of the last three stops, until `y` answers it: kept while the visit goes on, said until the next verdict. */
export const stuckPlace = (suggests: Suggestions | undefined) => {
  let stop: { readonly measure: string; readonly events: number } | null = null
  let answered = -1
  const isNew = (s: Session): boolean => stop !== null && stop.events === s.events.length
  return {
    see: (s: Session): void => {
      if (s.note.kind === 'place' && s.events.length !== answered)
        stop = { measure: s.note.measure, events: s.events.length }
    },
    line: (s: Session): string =>
      suggests ? (stop && isNew(s) ? suggests.stuck(stop.measure) : suggests.line(s)) : '',
    /** Whether `y` would do something now. */
    asks: (s: Session): boolean => suggests !== undefined && (stop !== null || suggests.asks(s)),
    yes: async (s: Session): Promise<Done> => {
      if (!suggests) return { text: NOTHING_ASKED }
      // What was said last is what is answered.
      if (!isNew(s) && suggests.asks(s)) return suggests.yes(s, null)
      const asked = stop
      stop = null
      // The note still stands while it is being done.
      answered = s.events.length
      return suggests.yes(s, asked?.measure ?? null)
    },
  }
}

/** What is known of the offers beside the ladder, as far as a choice depends on it. */
export type Offers = {
  /** `c` still leads to a cold take. */
  readonly cold: boolean
  /** Something is asked that `y` answers. */
  readonly yes: boolean
  /** Why `j` leads nowhere; null = it joins. */
  readonly join: string | null
}

/** What comes next at the press of a key, or null where it can't: a cold take only before the first repetition of a day. */
export const nextOf = (
  s: Session,
  { what, other }: Command & { kind: 'next' },
  coldIsOpen: boolean,
): Next | null =>
  s.setup.rhythm !== null || s.setup.ends || (what === 'cold' && !(coldIsOpen && s.phase === 'ready'))
    ? null
    : { kind: what, rung: rungOf(s.ladder), ...(other ? { other } : {}) }

/** Something that a foot can choose, and what that does. */
export type Choice = {
  readonly text: string
  readonly does: Command | { readonly kind: 'close'; readonly quit: false }
}

/** Where something is chosen: a visit, or its closing view. */
export type ChoosingAt = {
  readonly session: Session
  /** The closing view; its lines are empty while they are being found. */
  readonly ended: { readonly lines: readonly string[]; readonly joins: boolean } | null
  /** What two pedals have left of what is offered, until something new comes up. */
  readonly passed: readonly string[]
}

const ROUND = { kind: 'next', what: 'round' } as const
const PRESS: Command = { kind: 'visit', action: { kind: 'pedal', pedal: 'right', frame: null } }
const WAIT: Command = { kind: 'visit', action: { kind: 'wait' } }
const choice = (text: keyof typeof CHOICE_WORDS, does: Choice['does']): Choice => ({
  text: CHOICE_WORDS[text],
  does,
})
const JOIN = choice('join', { kind: 'join' })

/** What stands beside the ladder. */
const offered = (o: Offers): readonly Choice[] => [
  ...(o.yes ? [choice('yes', { kind: 'yes' })] : []),
  ...(o.join === null ? [JOIN] : []),
]

/**
 * What the right one of two pedals takes, where an offer stands, nothing else is asked and nothing sounds; the left one
 * leaves it.
 */
export const offerOf = ({ session: s, ended, passed }: ChoosingAt, o: Offers): Choice | null => {
  if (s.setup.pedals === 1 || (ended ? !ended.joins : s.phase !== 'hold' || s.asks)) return null
  const stuck = s.ladder.drops >= DROPS_TO_SUGGEST && nextOf(s, ROUND, false)
  const all = ended ? [JOIN] : [...offered(o), ...(stuck ? [choice('round', ROUND)] : [])]
  return all.find(c => !passed.includes(c.text)) ?? null
}

/**
 * What one pedal can choose while nothing sounds, the usual thing first; none where a press has one meaning only. Two
 * pedals take or leave what is offered.
 */
export const choicesOf = ({ session: s, ended }: ChoosingAt, o: Offers): readonly Choice[] => {
  if (s.setup.pedals === 2) return []
  if (ended) return ended.joins ? [choice('close', { kind: 'close', quit: false }), JOIN] : []
  if (s.phase === 'ready')
    return o.cold ? [choice('start', PRESS), choice('cold', { kind: 'next', what: 'cold' })] : []
  if (s.phase !== 'hold') return []
  if (s.asks) {
    const { on, stay } = askedChoices(s.asks, s.slot)
    return [
      { text: on, does: PRESS },
      { text: stay, does: WAIT },
    ]
  }
  return [
    choice('goOn', PRESS),
    ...offered(o),
    ...(nextOf(s, ROUND, false) ? [choice('round', ROUND)] : []),
    choice('finish', { kind: 'finish' }),
  ]
}
