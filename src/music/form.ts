import { add, compare, type Frac, fractionText, sub, zero } from './fraction.ts'
import { type Meter, measureLength, meterText } from './meter.ts'
import { compareTempo, ratioOf, type Tempo } from './tempo.ts'

/**
 * The shape of the music that is clicked, in whole notes from its first note.
 * The first bar line stands at `pickup`; meters change at bar lines; `length` counts the pick-up too.
 */
export type Form = {
  readonly meters: readonly { readonly at: Frac; readonly meter: Meter }[]
  /** Written tempos; the first stands at 0. `ramp` slides evenly over the score to the next mark. */
  readonly marks: readonly { readonly at: Frac; readonly tempo: Tempo; readonly ramp?: true }[]
  readonly pickup: Frac
  readonly length: Frac
  /** Planned breaths and other marks that are cued, in order. */
  readonly breaths?: readonly Breath[]
  /** Share of the goal from which tempo changes are played, where it is not the usual one; 0 = always. */
  readonly changesFrom?: Frac
  /** Counted in before it, where the measures of the form are not those of the part (an altered rhythm that stretches). */
  readonly counted?: Meter
}

/**
 * breath: the note before gives its time. slow-breath: taken only when slower than `below`. caesura, fermata: time is
 * added. bow, turn (of a page), mute, instrument (change), look (up): cues that take no time.
 */
export const BREATH_KINDS = [
  'breath',
  'slow-breath',
  'caesura',
  'fermata',
  'bow',
  'turn',
  'mute',
  'instrument',
  'look',
] as const
export type BreathKind = (typeof BREATH_KINDS)[number]

/** Kinds that stop the music, and so may wait for the pedal. */
export const MAY_WAIT: readonly BreathKind[] = ['caesura', 'fermata']
export const ONLY_THESE_WAIT = 'leaving it out: only a caesura or a fermata waits for the pedal'

const TAKES_TIME: ReadonlySet<BreathKind> = new Set(['slow-breath', 'caesura', 'fermata'])

/** A mark in the course of the music, between two notes: at the end of the note before (that of a fermata: held). */
export type Breath = {
  readonly at: Frac
  readonly kind: BreathKind
  /** Time added by a slow breath, a caesura or a fermata: a note value at the tempo of the note before. */
  readonly adds: Frac
  /** A slow breath is taken when the form's first mark is played slower than this. */
  readonly below?: Tempo
  /** While practicing a caesura or fermata waits here for the pedal, instead of the time that it adds. */
  readonly waits?: true
  /** How long the note is that a fermata holds: it stands on that note, and `at` is where the note ends. */
  readonly note?: Frac
  /** The player's own word for it: "tip of the bow". */
  readonly word?: string
}

/** One measure of a form: number (0 = the pick-up), where it stands, and the bar line its pulses count from. */
export type Measure = {
  readonly number: number
  readonly from: Frac
  readonly to: Frac
  readonly meter: Meter
  /** Negative in a pick-up: where the whole measure would have begun. */
  readonly barline: Frac
}

export const meterAt = (f: Form, at: Frac): Meter => {
  const found = f.meters.findLast(m => compare(m.at, at) <= 0) ?? f.meters[0]
  if (!found) throw new RangeError('a form needs a meter')
  return found.meter
}

/** Forms never change, so their measures are counted once: places are read and printed by the hundred. */
const counted = new WeakMap<Form, readonly Measure[]>()

/** All measures of a form in order. The last one may be cut short by the form's end. */
export const measures = (f: Form): readonly Measure[] => {
  const known = counted.get(f) ?? count(f)
  counted.set(f, known)
  return known
}

const count = (f: Form): readonly Measure[] => {
  const out: Measure[] = []
  const first = meterAt(f, zero)
  if (compare(f.pickup, zero) > 0) {
    const to = compare(f.pickup, f.length) < 0 ? f.pickup : f.length
    out.push({ number: 0, from: zero, to, meter: first, barline: sub(f.pickup, measureLength(first)) })
  }
  for (let from = f.pickup, number = 1; compare(from, f.length) < 0; number++) {
    const meter = meterAt(f, from)
    const end = add(from, measureLength(meter))
    out.push({ number, from, to: compare(end, f.length) < 0 ? end : f.length, meter, barline: from })
    from = end
  }
  return out
}

/** The note value in which the tempo is given at a position. */
export const unitAt = (f: Form, at: Frac): Frac => {
  const found = f.marks.findLast(m => compare(m.at, at) <= 0) ?? f.marks[0]
  if (!found) throw new RangeError('a form needs a tempo mark at its start')
  return found.tempo.unit
}

/** The marks that happen with the form's first mark at a tempo (all but slow breaths then not needed), and what they add. */
export const breathsAt = (f: Form, first: Tempo): readonly Breath[] =>
  (f.breaths ?? [])
    .filter(b => b.kind !== 'slow-breath' || (b.below !== undefined && compareTempo(first, b.below) < 0))
    .map(b => (TAKES_TIME.has(b.kind) ? b : { ...b, adds: zero }))

/** The marks at which the music waits for the pedal, one a place: before the first note and after the last nothing waits. */
export const waitsIn = (f: Form): readonly Breath[] =>
  (f.breaths ?? []).filter(
    (b, i, all) =>
      b.waits &&
      compare(b.at, zero) > 0 &&
      compare(b.at, f.length) < 0 &&
      !all.slice(0, i).some(a => a.waits && compare(a.at, b.at) === 0),
  )

/** The usual form: some measures of one meter at one tempo, perhaps with a pick-up. */
export const plainForm = (meter: Meter, count: number, tempo: Tempo, pickup: Frac = zero): Form => {
  let length = pickup
  for (let i = 0; i < count; i++) length = add(length, measureLength(meter))
  return { meters: [{ at: zero, meter }], marks: [{ at: zero, tempo }], pickup, length }
}

/** FNV-1a, 64 bits (Fowler, Noll, Vo; constants from memory): short, and the same on every machine. */
const hash = (s: string): string => {
  let h = 0xcbf29ce484222325n
  for (const byte of new TextEncoder().encode(s)) h = BigInt.asUintN(64, (h ^ BigInt(byte)) * 0x100000001b3n)
  return h.toString(36)
}

/**
 * What makes the music of a section what it is: its place, meters, pick-up, length and the ratios of its tempos. As long
 * as this text stays, ceilings stay true; titles, notes, breaths, dates, goal and start do not enter.
 */
export const contentMark = (f: Form, place: string): string => {
  const first = f.marks[0]
  const marks = f.marks.map(m => [
    fractionText(m.at),
    first ? fractionText(ratioOf(m.tempo, first.tempo)) : '',
    m.ramp ? 'ramp' : '',
  ])
  const meters = f.meters.map(m => [fractionText(m.at), meterText(m.meter)])
  return hash(JSON.stringify([place, fractionText(f.pickup), fractionText(f.length), meters, marks]))
}
