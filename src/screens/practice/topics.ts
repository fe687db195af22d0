import { momentOf } from '../../visit/moment.ts'
import { rungOf, type Session } from '../../visit/session.ts'
import { askedHint } from '../../visit/slot.ts'
import { restNow } from './strip.ts'
import {
  askedWords,
  asksWhat,
  clickedLine,
  clickSaid,
  noteText,
  pedalHint,
  rowWords,
  tempoLine,
} from './words.ts'

/** What the practice screen says as lines: one for each thing that changes, none for what only moves. */
export const practiceTopics = (o: {
  readonly session: Session
  readonly frame: number | null
  /** What is offered beside the ladder; what one pedal can choose now; what there is to say about the sound. */
  readonly beside: string
  readonly choice: string
  readonly sound: string
  /** The keys that say what went wrong; null where nothing is kept. */
  readonly wrongs: readonly string[] | null
  readonly locked: string
  readonly keys: { readonly right: string; readonly left: string }
}): Readonly<Record<string, string>> => {
  const { session: s } = o
  const done = s.phase === 'done'
  const click = clickedLine(s, rungOf(s.ladder))
  const asks = askedHint(s, o.keys)
  return {
    pedals: s.phase === 'ready' ? pedalHint(momentOf(s, null), s.setup.pedals, o.keys) : '',
    beside: o.beside,
    note: s.note.kind === 'heard' ? '' : noteText(s.note),
    // Once in a visit: the keys stay the same.
    ...(o.wrongs && asksWhat(s.note) ? { wrongs: askedWords(o.wrongs) } : {}),
    slot: o.choice === '' ? asks : '',
    choice: o.choice,
    ladder: done ? '' : `${tempoLine(s, rungOf(s.ladder))}: ${rowWords(s)}`,
    ...(done || click === '' ? {} : { click: clickSaid(click) }),
    rest: restNow(s, o.frame),
    locked: o.locked,
    sound: o.sound,
  }
}
