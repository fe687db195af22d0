import { placeWords } from '../../music/place.ts'
import { keyLabel } from '../../terminal/key-label.ts'
import { type KeyChoice, keysOf } from '../../terminal/key-table.ts'
import type { Session } from '../../visit/session.ts'
import { NOTE_ROW } from '../note/note-row.ts'
import type { Subject } from '../note/reduce.ts'
import type { KeyLock } from './key-lock.ts'
import { PRACTICE_KEYS } from './key-table.ts'
import { type Action, openOf, type State } from './reduce.ts'

/** Where the music stopped last, if it did in the latest repetition. */
const placeIn = (s: Session): string | undefined => {
  const verdict = s.events.findLast(e => e.kind === 'verdict')
  return verdict?.kind === 'verdict' && verdict.place ? placeWords(verdict.place) : undefined
}

/** The key that opens a note, as it is called; empty where the player took it away. */
export const noteKey = (choice: KeyChoice): string => {
  const [key] = keysOf(NOTE_ROW, choice)
  return key === undefined ? '' : keyLabel(key)
}

/**
 * Notes while something is practiced: none while other keys are locked, a tempo is typed or the help lies open. What sounds
 * waits, as with the key for that, and its repetition is not counted; a verdict that is asked for stays asked for.
 */
export const practiceNotes = (lock: KeyLock, subject: Subject = { about: {}, says: '' }) => ({
  table: PRACTICE_KEYS,
  on: openOf,
  subject: (s: State): Subject | null => {
    if (lock.locked() || s.help !== null || s.ended?.lines.length === 0) return null
    const place = placeIn(s.session)
    return { ...subject, ...(place ? { place } : {}) }
  },
  stops: ({ session: s }: State): Action | null =>
    s.phase === 'going' && s.current?.over === false ? { kind: 'visit', action: { kind: 'wait' } } : null,
})
