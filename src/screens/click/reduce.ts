import { clickWords } from '../../click/by-tempo.ts'
import type { Steady } from '../../click/endless.ts'
import type { Only } from '../../click/program.ts'
import { type Frac, frac, toNumber } from '../../music/fraction.ts'
import { type Meter, meterText, parseMeter, pulses, sameMeter } from '../../music/meter.ts'
import { noteValueName, QUARTER, several } from '../../music/note-value.ts'
import { sentence } from '../../music/result.ts'
import { EXTENDED_MARKS, FASTEST, nearestMark, parseTempo, spoken, type Tempo } from '../../music/tempo.ts'
import { joined, type KeyNames, pedalsDo, unitWords } from '../words.ts'
import { closingText, SLEPT } from './words.ts'

/** The click as the player wants it, and what is being typed or tapped. */
export type State = {
  readonly tempo: Tempo
  readonly meter: Meter
  readonly subdivide: number
  /** The note value that is counted, where it is not that of the tempo. */
  readonly pulse: Frac | null
  /** As chosen; beats that a meter does not have are left out there. */
  readonly only: Only | null
  /** Measures of count-in; 0 = none. */
  readonly countIn: number
  readonly going: boolean
  readonly typing: string
  readonly taps: Taps
  /** A sentence on something that was refused or lost; empty when there is none. */
  readonly note: string
}

export type Action =
  /** A pedal that starts and stops. */
  | { readonly kind: 'press' }
  /** `at` in monotonic ms. */
  | { readonly kind: 'tap'; readonly at: number }
  | { readonly kind: 'mark'; readonly by: 1 | -1 }
  | { readonly kind: 'digit'; readonly text: string }
  | { readonly kind: 'erase' | 'escape' | 'enter' | 'meter' | 'subdivide' | 'leave' }
  | { readonly kind: 'slept' }
  | { readonly kind: 'said'; readonly text: string }

export type Effect = 'start' | 'change' | 'stop' | 'leave'

export type Step = { readonly state: State; readonly effects: readonly Effect[] }

export const newClick = (
  o: Pick<State, 'tempo' | 'meter' | 'subdivide' | 'pulse' | 'only' | 'countIn'>,
): State => ({
  ...o,
  going: false,
  typing: '',
  taps: noTaps,
  note: '',
})

/** The meters that `m` goes through: those that most music is written in; common practice, no source. */
const METERS = ['2/4', '3/4', '4/4', '5/4', '2/2', '6/8', '9/8', '12/8', '5/8', '7/8'].flatMap(text => {
  const m = parseMeter(text)
  return m.ok ? [m.value] : []
})
const MOST_SUBDIVIDED = 4

/** The note value that a beat is by custom: halves in 2/2, dotted quarters in 6/8, else quarters. */
export const customaryBeat = (m: Meter): Frac => {
  if (m.unit.d === 8 && m.groups.every(g => g === 3)) return frac(3, 8)
  return m.unit.d === 2 ? m.unit : QUARTER
}

/** What is to sound. Where a meter has none of the chosen beats, all of them click. */
export const clickOf = (s: State): Steady => {
  const { meter, tempo, subdivide, pulse, only } = s
  const beats = only?.beats?.filter(b => b <= pulses(meter, pulse ?? tempo.unit).length) ?? []
  const kept: Only = {
    ...(beats.length > 0 ? { beats } : {}),
    ...(only?.measures ? { measures: only.measures } : {}),
  }
  return {
    meter,
    tempo,
    subdivide,
    ...(pulse ? { pulse } : {}),
    ...(kept.beats || kept.measures ? { only: kept } : {}),
  }
}

/** The next mark of the traditional scale above or below a tempo; null = there is none. */
export const markBeside = (t: Tempo, by: 1 | -1): number | null => {
  const bpm = toNumber(t.bpm)
  const mark = by > 0 ? EXTENDED_MARKS.find(m => m > bpm) : EXTENDED_MARKS.findLast(m => m < bpm)
  return mark === undefined || mark > FASTEST ? null : mark
}

/** What the taps say: beats a minute and the nearest mark, in the note value of the present tempo. */
export const tapped = (s: State): { readonly about: number; readonly mark: number } | null => {
  const about = tappedTempo(s.taps)
  return about === null ? null : { about: Math.round(about), mark: nearestMark(about) }
}

const only = (state: State, ...effects: Effect[]): Step => ({ state, effects })

/** Another click, from the next bar line on while one sounds. */
const changed = (s: State, change: Partial<State>): Step => ({
  state: { ...s, typing: '', taps: noTaps, note: '', ...change },
  effects: s.going ? ['change'] : [],
})

const at = (s: State, bpm: number): Step => changed(s, { tempo: { unit: s.tempo.unit, bpm: frac(bpm) } })

const enter = (s: State): Step => {
  if (s.typing === '') {
    const found = tapped(s)
    return found ? at(s, found.mark) : only(s)
  }
  const read = parseTempo(`${noteValueName(s.tempo.unit)}=${s.typing}`)
  if (read.ok) return changed(s, { tempo: read.value })
  const { problem } = read
  return only({ ...s, typing: '', note: sentence({ ...problem, got: s.typing }) })
}

/** The same number of beats a minute in the next meter, counted in its customary beat. */
const nextMeter = (s: State): Step => {
  const meter = METERS[(METERS.findIndex(m => sameMeter(m, s.meter)) + 1) % METERS.length] ?? s.meter
  return changed(s, { meter, tempo: { unit: customaryBeat(meter), bpm: s.tempo.bpm }, pulse: null })
}

export const reduce = (s: State, a: Action): Step => {
  switch (a.kind) {
    case 'press':
      return only({ ...s, going: !s.going, taps: noTaps, note: '' }, s.going ? 'stop' : 'start')
    case 'tap':
      return only({ ...s, taps: tap(s.taps, a.at), typing: '', note: '' })
    case 'mark': {
      const mark = markBeside(s.tempo, a.by)
      return mark === null ? only(s) : at(s, mark)
    }
    case 'digit':
      return only({ ...s, typing: (s.typing + a.text).slice(0, 7), taps: noTaps, note: '' })
    case 'erase':
      return only({ ...s, typing: s.typing.slice(0, -1) })
    case 'escape':
      return only({ ...s, typing: '', taps: noTaps, note: '' })
    case 'enter':
      return enter(s)
    case 'meter':
      return nextMeter(s)
    case 'subdivide':
      return changed(s, { subdivide: s.subdivide >= MOST_SUBDIVIDED ? 1 : s.subdivide + 1 })
    case 'slept':
      return s.going ? only({ ...s, going: false, note: SLEPT }, 'stop') : only(s)
    case 'said':
      return only({ ...s, note: a.text })
    case 'leave':
      return only({ ...s, going: false }, 'stop', 'leave')
  }
}

/** What was understood and is still open: digits, taps, or a sentence. */
export const noteOf = (s: State): string => {
  if (s.typing !== '') return `tempo ${s.typing}_   Enter takes it, Escape leaves it`
  const found = tapped(s)
  if (found)
    return found.about === found.mark
      ? `about ${unitWords(s.tempo)} = ${found.about}, a mark of the scale; Enter takes it`
      : `about ${unitWords(s.tempo)} = ${found.about}; nearest mark ${found.mark}, Enter takes it`
  const count = tapCount(s.taps)
  if (count > 0)
    return count < 3 ? `tapped ${count === 1 ? 'once' : 'twice'}; at least three times` : 'tap on'
  return s.note
}

/** "4/4, 2 to the beat, on beats 2, 4, 2 of 4 measures" */
export const clickText = (s: State): string => {
  const { pulse } = s
  return joined([
    meterText(s.meter),
    pulse ? `counted in ${several(noteValueName(pulse))}` : '',
    ...clickWords(clickOf(s)),
    s.countIn > 0 ? `count-in ${s.countIn}` : '',
  ])
}

/** What is said when the player has left. */
export const closing = (s: State): readonly string[] => [closingText(spoken(s.tempo), meterText(s.meter))]

/** What the pedals do; `keys` are their names. */
export const pedalHint = (going: boolean, pedals: 1 | 2, keys: KeyNames): string =>
  going ? pedalsDo(pedals, keys, 'stop') : pedalsDo(pedals, keys, 'start', 'tap a tempo')

/** Slowest and fastest tempo that is found by tapping, in taps a minute. */
const SLOWEST_TAPS = 20
const FASTEST_TAPS = 300

const LONGEST_BEAT = 60_000 / SLOWEST_TAPS
const SHORTEST_BEAT = 60_000 / FASTEST_TAPS
/** A key that is held repeats faster than this, and no foot taps so fast. Milliseconds. */
const REPEAT = 120
/** Intervals that are looked at: enough to even out a hand, few enough to follow a new tempo. */
const LATEST = 7
/** Agreement: an interval that differs by more than this part was a tap too many or too few. */
const NEAR = 0.25
/** After so many beats without a tap the next one begins anew. */
const MISSED = 3

/** Intervals between the taps so far, in ms, oldest first. */
export type Taps = {
  readonly intervals: readonly number[]
  /** The last tap that counted, and the last key event at all; null before the first. Milliseconds. */
  readonly last: number | null
  readonly event: number | null
}

export const noTaps: Taps = { intervals: [], last: null, event: null }

/** Of an even number the lower one: a missed tap makes an interval too long, never too short. */
const median = (all: readonly number[]): number | null => {
  const sorted = [...all].sort((a, b) => a - b)
  return sorted[(sorted.length - 1) >> 1] ?? null
}

const agreeing = (all: readonly number[]): readonly number[] => {
  const middle = median(all)
  return middle === null ? [] : all.filter(i => Math.abs(i - middle) <= NEAR * middle)
}

/** A tap at `t` (ms, monotonic). Repeats of a held key are none; after a pause it is the first of a new series. */
export const tap = (taps: Taps, t: number): Taps => {
  const { last, event, intervals } = taps
  if (last === null || event === null) return { intervals: [], last: t, event: t }
  if (t - event < REPEAT) return { ...taps, event: t }
  const passed = t - last
  const beat = median(agreeing(intervals))
  if (passed > LONGEST_BEAT || (beat !== null && intervals.length > 1 && passed > MISSED * beat))
    return { intervals: [], last: t, event: t }
  return { intervals: [...intervals, passed].slice(-LATEST), last: t, event: t }
}

/** Taps of this series. */
export const tapCount = (taps: Taps): number => (taps.last === null ? 0 : taps.intervals.length + 1)

/** The median of the intervals that agree, in taps a minute; null until three taps agree, or out of range. */
export const tappedTempo = (taps: Taps): number | null => {
  const kept = agreeing(taps.intervals)
  const beat = kept.length < 2 ? null : median(kept)
  return beat === null || beat > LONGEST_BEAT || beat < SHORTEST_BEAT ? null : 60_000 / beat
}
