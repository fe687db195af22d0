import type { Frac } from '../music/fraction.ts'
import { type Meter, meterText } from '../music/meter.ts'
import { noteValueName } from '../music/note-value.ts'
import { parseTempo, type Tempo, typed } from '../music/tempo.ts'
import type { Direction } from './direction.ts'

/**
 * What is played once and apart: a cold take (the first repetition of a day), a run from the entry, a try at the goal,
 * one beat and its next note at the goal, a repetition without a sound (fingers, sung, bow in the air), the last time
 * through of a day, slow repetitions on the evening before a date. Its ceiling is
 * the highest tempo that was clean so (of cold takes: the secure tempo); the ladder's own is never touched.
 */
export const TAKES = ['cold', 'entry', 'goal', 'beat', 'silent', 'through', 'slow'] as const
export type TakeKind = (typeof TAKES)[number]

/**
 * The music of a ladder. A section (or a whole passage) is known by its id, so that renaming it keeps its history; of a
 * join and a seam the ids stand in the order of the alphabet. A quick ladder is known by what was typed: start, goal,
 * steps and rules may change.
 */
type MusicKey =
  | { readonly kind: 'section'; readonly id: string }
  | { readonly kind: 'join' | 'seam'; readonly ids: readonly string[] }
  | {
      readonly kind: 'quick'
      readonly meter: string
      readonly measures: number
      readonly pickup: string | null
      readonly unit: string
    }
  /** Of a newer program, or damaged: kept as it is. */
  | { readonly kind: 'unknown'; readonly text: string }

/** Each way of playing the same music has a history of its own; a ladder that leads down is in even rhythm. */
type Way = {
  /** "even", or the ratios of an altered rhythm. */
  readonly rhythm: string
  readonly direction: Direction
  readonly take: TakeKind | null
}

/** One exercise of a warm-up in one key, begun at a tempo: nobody judged it, so the tempo stands here. */
export type WarmedUp = {
  readonly warmUp: string
  readonly item: string
  /** "Bb major"; null = an exercise without keys. */
  readonly key: string | null
  readonly tempo: Tempo
}

/** Whose history it is. Journals, notes and maps hold it as a text (`encodeKey`); only this file knows how that is built. */
export type LadderKey = (MusicKey & Way) | ({ readonly kind: 'warm-up' } & WarmedUp)

const packed = (s: string): string => s.trim().replace(/\s+/g, '_')
const unpacked = (s: string): string => s.replaceAll('_', ' ')

const musicText = (k: MusicKey): string => {
  if (k.kind === 'section') return `section ${k.id}`
  if (k.kind === 'quick') return `quick ${k.meter} x${k.measures} ${k.pickup ?? 'none'} ${k.unit}`
  return k.kind === 'unknown' ? k.text : `${k.kind} ${k.ids.join('+')}`
}

export const encodeKey = (k: LadderKey): string => {
  if (k.kind === 'warm-up')
    return ['warmup', k.warmUp, packed(k.item), k.key === null ? '-' : packed(k.key), typed(k.tempo)].join(
      ' ',
    )
  const way = k.kind === 'unknown' ? [] : [k.direction === 'down' ? 'down' : k.rhythm]
  return [...(k.take ? [k.take] : []), musicText(k), ...way].join(' ')
}

const decodeMusic = (kind: string | undefined, rest: readonly string[]): MusicKey | null => {
  const [first = ''] = rest
  if (kind === 'section' && rest.length === 1) return { kind, id: first }
  if ((kind === 'join' || kind === 'seam') && rest.length === 1) return { kind, ids: first.split('+') }
  const [meter, measures, pickup, unit] = rest
  if (kind !== 'quick' || rest.length !== 4 || !meter || !measures || !pickup || !unit) return null
  return { kind, meter, measures: Number(measures.slice(1)), pickup: pickup === 'none' ? null : pickup, unit }
}

const decodeWarmUp = (text: string): LadderKey | null => {
  const [kind, warmUp = '', item = '', of = '', tempo = ''] = text.split(' ')
  const read = parseTempo(tempo)
  if (kind !== 'warmup' || !read.ok) return null
  return {
    kind: 'warm-up',
    warmUp,
    item: unpacked(item),
    key: of === '-' ? null : unpacked(of),
    tempo: read.value,
  }
}

const decodeAnew = (text: string): LadderKey => {
  const take = TAKES.find(t => text.startsWith(`${t} `)) ?? null
  const words = text.split(' ').slice(take ? 1 : 0)
  const how = words.at(-1) ?? ''
  const way: Way = { rhythm: how === 'down' ? 'even' : how, direction: how === 'down' ? 'down' : 'up', take }
  const music = decodeMusic(words[0], words.slice(1, -1))
  const found = music ? { ...music, ...way } : decodeWarmUp(text)
  // A text that would be written otherwise is of something else.
  return found && encodeKey(found) === text
    ? found
    : { kind: 'unknown', text: words.join(' '), rhythm: 'even', direction: 'up', take }
}

/** Kept small, whatever a journal holds. */
const decoded = new Map<string, LadderKey>()
const MOST_DECODED = 5000

/** Any text that stands in a journal; encoded again it is the same. */
export const decodeKey = (text: string): LadderKey => {
  const known = decoded.get(text)
  if (known) return known
  if (decoded.size >= MOST_DECODED) decoded.clear()
  const key = decodeAnew(text)
  decoded.set(text, key)
  return key
}

const EVEN: Way = { rhythm: 'even', direction: 'up', take: null }

/** A section, or a passage as a whole. */
export const sectionKey = (id: string): string => encodeKey({ kind: 'section', id, ...EVEN })

/** Sections played as one have ceilings of their own, whichever of them is named first. */
export const joinKey = (ids: readonly string[]): string =>
  encodeKey({ kind: 'join', ids: [...ids].sort(), ...EVEN })

/** Where sections meet. */
export const seamKey = (ids: readonly string[]): string =>
  encodeKey({ kind: 'seam', ids: [...ids].sort(), ...EVEN })

export const quickKey = (o: {
  readonly meter: Meter
  readonly measures: number
  readonly pickup: Frac | null
  readonly unit: Frac
}): string =>
  encodeKey({
    kind: 'quick',
    meter: meterText(o.meter),
    measures: o.measures,
    pickup: o.pickup && noteValueName(o.pickup),
    unit: noteValueName(o.unit),
    ...EVEN,
  })

export const warmUpKey = ({ warmUp, item, key, tempo }: WarmedUp): string =>
  encodeKey({ kind: 'warm-up', warmUp, item, key, tempo })

const otherwise = (key: string, way: Partial<Way>): string => {
  const k = decodeKey(key)
  return k.kind === 'warm-up' ? key : encodeKey({ ...k, ...way })
}

/** The same music played once and apart from its ladder. */
export const takeKey = (take: TakeKind, key: string): string => otherwise(key, { take })
/** The same music down to a slow goal: what is hard in the one is easy in the other. */
export const downKey = (key: string): string => otherwise(key, { direction: 'down' })
/** The same music in an altered rhythm ("3:1"). */
export const rhythmKey = (key: string, rhythm: string): string => otherwise(key, { rhythm })

const wayOf = (key: string): Way => {
  const k = decodeKey(key)
  return k.kind === 'warm-up' ? EVEN : k
}

export const directionOfKey = (key: string): Direction => wayOf(key).direction

/** The ladder that a key belongs to, and the take that was played apart from it. */
export const takenFrom = (key: string): { readonly take: TakeKind | null; readonly ladder: string } => {
  const { take } = wayOf(key)
  return { take, ladder: take ? otherwise(key, { take: null }) : key }
}

/** The ladder of the same music as it is written: what a note on it is about, however it was being played. */
export const musicKey = (key: string): string => otherwise(key, { take: null, rhythm: 'even' })

/** Ids of the passage or the sections that were played; none of a quick ladder or a warm-up. */
export const idsOf = (key: string): readonly string[] => {
  const k = decodeKey(key)
  if (k.kind === 'section') return [k.id]
  return k.kind === 'join' || k.kind === 'seam' ? k.ids : []
}

/** As written and upward: what tempos and places of several keys can be compared in. */
export const isEven = (key: string): boolean => {
  const { rhythm, direction } = wayOf(key)
  return rhythm === 'even' && direction === 'up'
}

/** Whether both are ladders (or both the same take) of the same music, in whatever rhythm. */
export const sameMusic = (a: string, b: string): boolean => {
  const even = (key: string): string => otherwise(key, { rhythm: 'even', direction: 'up' })
  return even(a) === even(b)
}
