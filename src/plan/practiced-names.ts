import type { Direction } from '../ladder/direction.ts'
import { directionOfKey, type TakeKind, takenFrom } from '../ladder/key.ts'
import { spoken } from '../music/tempo.ts'
import type { Passage, Piece, Section } from '../repertoire/piece.ts'
import { placeText } from '../visit/subject.ts'
import { readWarmUpKey } from '../warm-up/exercise.ts'

/** What a key stands for, in the player's words. */
export type Named = {
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
  entry: 'from the entry',
  goal: 'at the goal',
  beat: 'one beat at the goal',
  silent: 'without a sound',
  through: 'last time through',
  slow: 'slow',
}

const GONE = 'no longer in the repertoire'

/** "2 measures of 4/4, pick-up eighth, in dotted quarters" */
const quickMusic = ([
  meter = '',
  times = '',
  pickup = 'none',
  unit = 'quarter',
]: readonly string[]): string => {
  const n = times.slice(1)
  const plain = (name: string): string => name.replaceAll('-', ' ')
  return [
    `${n} ${n === '1' ? 'measure' : 'measures'} of ${meter}`,
    pickup === 'none' ? '' : `pick-up ${plain(pickup)}`,
    unit === 'quarter' ? '' : `in ${plain(unit)}s`,
  ]
    .filter(Boolean)
    .join(', ')
}

/** Keys (see ladder/key.ts) by the pieces that are known. */
export const namesOf = (pieces: readonly Piece[]): ((key: string) => Named) => {
  const places = new Map<string, Place>()
  const put = (place: Omit<Place, 'before'>): void => {
    const { id, was = [] } = place.section ?? place.passage
    for (const old of was) if (!places.has(old)) places.set(old, { ...place, before: true })
    places.set(id, { ...place, before: false })
  }
  for (const piece of pieces)
    for (const passage of piece.passages)
      for (const section of [null, ...(passage.sections ?? [])]) put({ piece, passage, section })
  return key => {
    const warm = readWarmUpKey(key)
    if (warm) {
      const { item, key: of, tempo } = warm
      const passage = [item, of ?? '', `from ${spoken(tempo)}`].filter(Boolean).join(', ')
      return { piece: 'Warm-up', passage, section: '', rhythm: 'even', ladder: 'up', take: null }
    }
    const { take, ladder: of } = takenFrom(key)
    const [kind = '', ...rest] = of.split(' ')
    const ladder = directionOfKey(key)
    const rhythm = ladder === 'down' ? 'even' : (rest.at(-1) ?? 'even')
    const how = { rhythm, ladder, take }
    if (kind === 'quick') return { piece: 'Quick ladder', passage: quickMusic(rest), section: '', ...how }
    const found = (rest[0] ?? '').split('+').map(id => places.get(id))
    const [first] = found
    if (!first) return { piece: GONE, passage: '', section: '', ...how }
    // The ids of a join stand in the alphabet's order, its sections in the music's.
    const { sections: all = [] } = first.passage
    const named = found.flatMap(f => f?.section ?? []).sort((a, b) => all.indexOf(a) - all.indexOf(b))
    const sections = named.map(s => s.name).join('+')
    const before = found.some(f => f?.before) ? BEFORE : ''
    return {
      piece: first.piece.title,
      passage: placeText(first.passage) + (first.section ? '' : before),
      section: first.section ? `${kind === 'seam' ? 'seam of ' : ''}${sections}${before}` : '',
      ...how,
    }
  }
}

/** "Weir Street Overture, run at the weir, m. 41-44, section 2, rhythm 3:1" */
export const nameText = (n: Named): string =>
  [
    n.piece,
    n.passage,
    n.section === '' || n.section.startsWith('seam') ? n.section : `section ${n.section}`,
    n.rhythm === 'even' ? '' : `rhythm ${n.rhythm}`,
    n.ladder === 'down' ? 'downward' : '',
    n.take ? TAKE_WORDS[n.take] : '',
  ]
    .filter(Boolean)
    .join(', ')
