import { filedFrom, type Numbered, shownFrom } from '../music/place.ts'
import type { Passage } from './passage.ts'
import { passageForm } from './passage-form.ts'

/** The fields of a section or of an entry of a list that hold a place. */
const PLACED = ['at', 'from', 'to', 'ends'] as const

/** The whole measures of a passage, which its places are read in; null while they are not right. */
const frames = new WeakMap<Passage, Numbered | null>()
const frameOf = (p: Passage): Numbered | null => {
  const known = frames.get(p)
  if (known !== undefined) return known
  const { tempos: _, breaths: __, sections: ___, ends: ____, ...rest } = p
  const read = passageForm(rest)
  const frame = read.ok ? read.value : null
  frames.set(p, frame)
  return frame
}

const placedBy =
  (read: (text: string, of: Numbered) => string) =>
  <E>(p: Passage, e: E): E => {
    if (typeof e !== 'object' || e === null) return e
    const texts = e as Record<string, unknown>
    const changed = PLACED.flatMap(key => {
      const text = texts[key]
      // Most places stand on a beat.
      const frame = typeof text === 'string' && text.includes('+') ? frameOf(p) : null
      return frame ? [[key, read(text as string, frame)] as const] : []
    })
    return changed.length > 0 ? { ...e, ...Object.fromEntries(changed) } : e
  }

/** A section or an entry of a list with its places as the player reads them: "43.2+eighth". */
export const withPlacesShown = placedBy(shownFrom)

/** And as the files have them: "43+3/8". */
export const withPlacesFiled = placedBy(filedFrom)
