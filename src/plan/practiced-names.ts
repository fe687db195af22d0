import type { Direction } from '../ladder/direction.ts'
import { decodeKey, idsOf, type LadderKey, type TakeKind } from '../ladder/key.ts'
import { several } from '../music/note-value.ts'
import { spoken } from '../music/tempo.ts'
import type { Passage, Piece, Section } from '../repertoire/piece.ts'
import { isRest, sectionsAndRest } from '../repertoire/the-rest.ts'
import { placeText } from '../visit/subject.ts'

/** What a key stands for, in the player's words. */
export type PracticedName = {
  readonly piece: string
  readonly passage: string
  /** "2", "1+2", "seam of 1+2"; empty for a whole passage. */
  readonly section: string
  /** "even", or the ratios of an altered rhythm. */
  readonly rhythm: string
  /** Where the ladder leads. */
  readonly ladder: Direction
  /** Played once and apart from the ladder. */
  readonly take: TakeKind | null
}

type Place = {
  readonly piece: Piece
  readonly passage: Passage
  readonly section: Section | null
  /** Practiced before its music changed and its history began anew. */
  readonly before: boolean
}

const BEFORE = ', before its music changed'

const TAKE_WORDS: Readonly<Record<TakeKind, string>> = {
  cold: 'cold',
  entry: 'from the entrance',
  goal: 'at the goal',
  beat: 'one beat at the goal',
  silent: 'without a sound',
  through: 'last time through',
  slow: 'slow',
}

const GONE = 'no longer in the repertoire'

/** "2 measures of 4/4, pick-up eighth, in dotted quarters" */
const quickMusic = ({ meter, measures: n, pickup, unit }: LadderKey & { kind: 'quick' }): string => {
  const plain = (name: string): string => name.replaceAll('-', ' ')
  return [
    `${n} ${n === 1 ? 'measure' : 'measures'} of ${meter}`,
    pickup === null ? '' : `pick-up ${plain(pickup)}`,
    unit === 'quarter' ? '' : `in ${several(unit)}`,
  ]
    .filter(Boolean)
    .join(', ')
}

/** Keys (see ladder/key.ts) by the pieces that are known. */
export const namesOf = (pieces: readonly Piece[]): ((key: string) => PracticedName) => {
  const places = new Map<string, Place>()
  const put = (place: Omit<Place, 'before'>): void => {
    const { id, was = [] } = place.section ?? place.passage
    for (const old of was) if (!places.has(old)) places.set(old, { ...place, before: true })
    places.set(id, { ...place, before: false })
  }
  for (const piece of pieces)
    for (const passage of piece.passages)
      for (const section of [null, ...sectionsAndRest(passage)]) put({ piece, passage, section })
  return text => {
    const key = decodeKey(text)
    if (key.kind === 'warm-up') {
      const { item, key: of, tempo } = key
      const passage = [item, of ?? '', `from ${spoken(tempo)}`].filter(Boolean).join(', ')
      return { piece: 'Warm-up', passage, section: '', rhythm: 'even', ladder: 'up', take: null }
    }
    const how = { rhythm: key.rhythm, ladder: key.direction, take: key.take }
    if (key.kind === 'quick') return { piece: 'Quick ladder', passage: quickMusic(key), section: '', ...how }
    const found = idsOf(text).map(id => places.get(id))
    const [first] = found
    if (!first) return { piece: GONE, passage: '', section: '', ...how }
    // The ids of a join stand in the alphabet's order, its sections in the music's.
    const all = sectionsAndRest(first.passage)
    const named = found.flatMap(f => f?.section ?? []).sort((a, b) => all.indexOf(a) - all.indexOf(b))
    const sections = named.map(s => s.name).join('+')
    const before = found.some(f => f?.before) ? BEFORE : ''
    return {
      piece: first.piece.title,
      passage: placeText(first.passage) + (first.section ? '' : before),
      section: first.section ? `${key.kind === 'seam' ? 'seam of ' : ''}${sections}${before}` : '',
      ...how,
    }
  }
}

/** "Weir Street Overture, run at the weir, m. 41-44, section 2, rhythm 3:1" */
export const nameText = (n: PracticedName): string =>
  [
    n.piece,
    n.passage,
    n.section === '' || n.section.startsWith('seam') || isRest({ name: n.section })
      ? n.section
      : `section ${n.section}`,
    n.rhythm === 'even' ? '' : `rhythm ${n.rhythm}`,
    n.ladder === 'down' ? 'downward' : '',
    n.take ? TAKE_WORDS[n.take] : '',
  ]
    .filter(Boolean)
    .join(', ')
