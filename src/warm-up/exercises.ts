import { localDay } from '../music/day.ts'
import {
  allKeys,
  arpeggio,
  broken,
  type Key,
  keyText,
  parseKey,
  scaleDown,
  scaleUp,
  spokenKey,
} from '../music/keys.ts'
import { parseMeter } from '../music/meter.ts'
import {
  hertz,
  noteName,
  noteNumber,
  type Pitch,
  parsePitch,
  parseTransposition,
  pitchName,
  sounding,
  spokenNote,
} from '../music/pitch.ts'
import { checked } from '../music/result.ts'
import { parseTempo, type Tempo } from '../music/tempo.ts'
import { lastTempo, marksBetween, type Remembered } from './exercise.ts'
import type { Preset, WarmUp, WarmUpItem } from './preset.ts'
import { keysOfDay } from './rotation.ts'
import type { Exercise } from './turns.ts'

/** What the exercises of today depend on; `today` is a local day ("2026-03-14"). */
export type WarmUpToday = {
  readonly today: string
  readonly remembered: readonly Remembered[]
  /** The A above middle C in hertz; what sounds when C is written; whether each rest is as long as what was played. */
  readonly tuning: {
    readonly a: number
    readonly transposition: string
    readonly rest?: 'usual' | 'as-long'
  }
}

export const temposOf = (i: WarmUpItem): readonly Tempo[] => i.tempos.map(t => checked(parseTempo(t)))

const keysOf = (i: WarmUpItem): readonly Key[] =>
  i.keys === undefined
    ? []
    : i.keys === 'rotate'
      ? allKeys(i.mode ?? 'major')
      : i.keys.map(k => checked(parseKey(k)))

const todaysKeys = (w: WarmUp, i: WarmUpItem, o: WarmUpToday): readonly (Key | null)[] => {
  const played = o.remembered
    .filter(r => r.warmUp === w.name && r.item === i.name)
    .flatMap(r => (r.key === null ? [] : [{ key: r.key, day: localDay(r.time, r.offset) }]))
  const keys = keysOf(i)
  const today = keysOfDay(keys.map(keyText), played, o.today)
  return keys.length === 0 ? [null] : today.map(k => checked(parseKey(k)))
}

const names = (pitches: readonly Pitch[]): string => pitches.map(noteName).join(' ')
const pairs = (key: Key, width: number): string =>
  broken(key, width)
    .map(p => p.map(noteName).join('-'))
    .join(' ')

/** What is played in this key, as it is spelled. */
const notesOf = (i: WarmUpItem, key: Key): readonly string[] => {
  if (i.exercise === 'thirds') return [pairs(key, 2)]
  if (i.exercise === 'sixths') return [pairs(key, 5)]
  if (i.exercise === 'arpeggio') return [names(arpeggio(key))]
  if (i.exercise !== 'scale' && i.exercise !== 'articulation') return []
  return key.mode === 'melodic minor'
    ? [`up ${names(scaleUp(key))}`, `down ${names(scaleDown(key))}`]
    : [names(scaleUp(key))]
}

/** Peak of a tone at master ff: under the clicks. dBFS. */
const TONE = -17

const toneOf = (i: WarmUpItem, key: Key | null, o: WarmUpToday['tuning']): Exercise['tone'] => {
  if (i.tone === undefined) return null
  const written = i.tone === 'tonic' && key ? key.tonic : checked(parsePitch(i.tone))
  const heard = sounding(written, checked(parseTransposition(o.transposition)))
  const spoken = (p: Pitch): string => spokenNote(pitchName(p))
  const pitch =
    noteNumber(written) === noteNumber(heard)
      ? spoken(written)
      : `${spoken(written)} as written, ${spoken(heard)} at concert pitch`
  return { hz: hertz(heard, o.a), dbfs: TONE, words: `tone: ${pitch}; A = ${o.a} Hz` }
}

/** The exercises of today: the keys that are due, each at the tempo at which it was last begun. */
export const exercisesOf = (w: WarmUp, o: WarmUpToday): readonly Exercise[] =>
  w.items.flatMap(i =>
    todaysKeys(w, i, o).map((key): Exercise => {
      const tempos = temposOf(i)
      const id = { warmUp: w.name, item: i.name, key: key && keyText(key) }
      const last = lastTempo(o.remembered, id)
      return {
        ...id,
        words: i.words,
        heading: key ? spokenKey(key) : '',
        notes: key ? notesOf(i, key) : [],
        meter: checked(parseMeter(i.meter)),
        measures: i.measures ?? 1,
        lengths: i.lengths ?? [],
        tempos,
        shift: last && tempos[0] ? marksBetween(tempos[0], last) : 0,
        times: i.times,
        minutes: i.minutes ?? null,
        tone: toneOf(i, key, o.tuning),
        asLong: w.rest === 'as-long' || o.tuning.rest === 'as-long',
      }
    }),
  )

/**
 * The warm-up whose turn it is: the one that was left out longest, new ones first, in the order of the list. One that
 * rests as long as it plays is for brass, and comes by itself only where it was played before.
 */
export const warmUpInTurn = (
  all: readonly { readonly preset: Preset }[],
  remembered: readonly Remembered[],
): WarmUp | null => {
  const last = (w: WarmUp): string => remembered.find(r => r.warmUp === w.name)?.time ?? ''
  const [first] = all
    .flatMap(({ preset }) => (preset.kind === 'warm-up' ? [preset] : []))
    .filter(w => w.rest !== 'as-long' || last(w) !== '')
    .sort((a, b) => (last(a) < last(b) ? -1 : last(a) > last(b) ? 1 : 0))
  return first ?? null
}
