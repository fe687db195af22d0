import type { Form } from '../../music/form.ts'
import type { Session } from '../../visit/session.ts'
import { NOTHING_ASKED } from './words.ts'

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
