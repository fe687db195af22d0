import type { Tone } from '../click/program.ts'
import type { Visit } from '../ladder/history.ts'
import { decodeKey, type WarmedUp } from '../ladder/key.ts'
import { daysBetween, localDay } from '../music/day.ts'
import type { Form } from '../music/form.ts'
import { compare, frac, toNumber } from '../music/fraction.ts'
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
import { type Meter, parseMeter } from '../music/meter.ts'
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
import { compareTempo, EXTENDED_MARKS, parseTempo, type Tempo } from '../music/tempo.ts'
import type { Preset, WarmUp, WarmUpItem } from './preset.ts'

export type Remembered = WarmedUp & { readonly time: string; readonly offset: number }

/** All that was played in warm-ups, the latest first. A visit in which no turn was heard to its end is no playing. */
export const warmedUp = (visits: readonly Visit[]): readonly Remembered[] =>
  visits
    .filter(v => v.played > 0)
    .flatMap(v => {
      const read = decodeKey(v.key)
      return read.kind === 'warm-up' ? [{ ...read, time: v.time, offset: v.offset }] : []
    })
    .sort((a, b) => (a.time < b.time ? 1 : -1))

/** The tempo at which an exercise was last begun in this key, else in any; null = it is new. */
export const lastTempo = (
  all: readonly Remembered[],
  w: Pick<WarmedUp, 'warmUp' | 'item' | 'key'>,
): Tempo | null => {
  const ours = all.filter(r => r.warmUp === w.warmUp && r.item === w.item)
  return (ours.find(r => r.key === w.key) ?? ours[0])?.tempo ?? null
}

/** So many marks of the traditional scale faster or slower, in the same note value; at its ends it stays. */
export const movedBy = (t: Tempo, marks: number): Tempo => {
  if (marks === 0) return t
  const next =
    marks > 0
      ? EXTENDED_MARKS.find(m => compare(frac(m), t.bpm) > 0)
      : EXTENDED_MARKS.findLast(m => compare(frac(m), t.bpm) < 0)
  return next === undefined ? t : movedBy({ unit: t.unit, bpm: frac(next) }, marks - Math.sign(marks))
}

/** How many marks lead from one tempo nearest to another. */
export const marksBetween = (from: Tempo, to: Tempo): number => {
  const by = Math.sign(compareTempo(to, from))
  let n = 0
  for (let at = from; Math.sign(compareTempo(to, at)) === by && by !== 0; n += by) {
    const next = movedBy(at, by)
    if (compareTempo(next, at) === 0) return n
    const past = Math.sign(compareTempo(to, next)) === -by
    if (past && toNumber(next.bpm) * toNumber(at.bpm) * by > toNumber(to.bpm) ** 2 * by) return n
    at = next
  }
  return n
}

/** No key is to stay untouched for longer. Days. */
export const WITHIN = 14
/** So many days may lie between two warm-ups without breaking that. */
const AWAY = 3

/** That a key was played on a day ("2026-03-14"). */
export type PlayedKey = { readonly key: string; readonly day: string }

/** Days from one warm-up to the next, as it was in the last two weeks. */
const usualGap = (played: readonly PlayedKey[], today: string): number => {
  const days = new Set(played.map(p => p.day).filter(d => d < today && daysBetween(d, today) <= WITHIN))
  return days.size === 0 ? 1 : daysBetween([...days].sort()[0] as string, today) / days.size
}

/**
 * The keys for today: the longest untouched first, as many as are needed so that none is untouched for more than 14
 * days, at the pace of the last two weeks; and surely all that would not wait for another three days. What was played
 * today changes nothing until tomorrow. A key that is past its 14 days comes as soon as the others allow, not all at once.
 * One that was never played counts from the day before the first of all.
 */
export const keysOfDay = (
  keys: readonly string[],
  played: readonly PlayedKey[],
  today: string,
): readonly string[] => {
  const ours = played.filter(p => keys.includes(p.key) && p.day < today)
  const first = ours.map(p => p.day).sort()[0] ?? today
  const age = (key: string): number =>
    ours.reduce(
      (a, p) => (p.key === key ? Math.min(a, daysBetween(p.day, today)) : a),
      daysBetween(first, today) + 1,
    )
  const oldest = keys.map(key => ({ key, age: age(key) })).sort((a, b) => b.age - a.age)
  const gap = usualGap(ours, today)
  const inTime = (many: number): boolean =>
    oldest.every((k, i) => i < many || (k.age > WITHIN ? 0 : k.age) + Math.floor(i / many) * gap <= WITHIN)
  let many = 1
  while (many < keys.length && !inTime(many)) many++
  const pressing = oldest.filter(k => k.age <= WITHIN && k.age + AWAY > WITHIN)
  const chosen = new Set([...oldest.slice(0, many), ...pressing].map(k => k.key))
  return oldest.map(k => k.key).filter(k => chosen.has(k))
}

/** An exercise in one key, ready to be played. */
export type Exercise = Omit<WarmedUp, 'tempo'> & {
  readonly words: string
  /** "B flat major"; empty without a key. */
  readonly heading: string
  /** What is played, note by note: lines for the eye. */
  readonly notes: readonly string[]
  readonly meter: Meter
  readonly measures: number
  /** Music of its own, instead of measures of one meter. */
  readonly form?: Form
  /** Beats of the tempo's note value, one length after the other, instead of measures; empty = measures. */
  readonly lengths: readonly number[]
  readonly tempos: readonly Tempo[]
  /** Marks of the traditional scale by which the tempos were moved when it was last played. */
  readonly shift: number
  /** Turns at each tempo and of each length. */
  readonly times: number
  /** It moves on by the clock instead of by count. */
  readonly minutes: number | null
  readonly tone: (Pick<Tone, 'hz' | 'dbfs'> & { readonly words: string }) | null
  /** Rests are as long as what was played. */
  readonly asLong: boolean
}

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
