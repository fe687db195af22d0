import { type Frac, sub, toNumber } from '../music/fraction.ts'
import { quarters, type Tempo } from '../music/tempo.ts'
import { outsideKey } from './local-key.ts'
import { nominal } from './meters.ts'
import { byMeasure } from './places.ts'
import { type Moment, momentsOf, type Playing, playingOf } from './playing.ts'
import type { Measure, Part } from './score.ts'
import { tempoAt } from './tempo-line.ts'

/** What makes one written measure hard for this instrument: each about 1 where it alone makes a measure hard. */
export type MeasureHardness = {
  readonly measure: number
  /** Notes that begin in it. */
  readonly notes: number
  /** Notes a second in the quickest four of them, rests between them counted; null where fewer begin or no tempo is known. */
  readonly perSecond: number | null
  readonly speed: number
  /** Leaps and turns, the more the quicker they come. */
  readonly shape: number
  readonly widest: number
  /** Notes outside of the key that is in force there. */
  readonly accidentals: number
  readonly foreign: number
  /** Notes beyond the usual range of the part, or beyond the first position of a string instrument. */
  readonly register: number
  readonly highest: number | null
  /** Syncopations, after-beats, note values that change. */
  readonly rhythm: number
  readonly syncopations: number
  /** Notes at once, and how far the hand spans. */
  readonly chords: number
}

/** Seconds of a whole note at one quarter a minute. */
const SECONDS_OF_WHOLE = 240
/** So many notes in a row are a run. */
const RUN = 4
const LONG_RUN = 8
/** A note that is only repeated is no full move. */
const SAME_NOTE = 0.5
const repeats = (a: Moment | undefined, b: Moment): boolean =>
  a !== undefined && a.top === b.top && a.low === b.low

/** Of one line; no quickest notes are 0 a second, and no highest one lies below all others. */
type Facts = Omit<MeasureHardness, 'measure' | 'perSecond' | 'highest'> & {
  readonly perSecond: number
  readonly highest: number
}

const NOTHING: Facts = {
  notes: 0,
  perSecond: 0,
  speed: 0,
  shape: 0,
  widest: 0,
  accidentals: 0,
  foreign: 0,
  register: 0,
  highest: Number.NEGATIVE_INFINITY,
  rhythm: 0,
  syncopations: 0,
  chords: 0,
}

/** What is the usual range of a line, so that what lies beyond it stands out. */
const usualRange = (moments: readonly Moment[]): { readonly low: number; readonly high: number } => {
  const tops = moments.flatMap(m => m.top ?? []).sort((a, b) => a - b)
  const at = (share: number): number => tops[Math.floor(tops.length * share)] as number
  return { low: at(0.1), high: at(0.8) }
}

/** Whole notes of a beat, and whether it is divided by three: a group of the meter, else a quarter. */
const beatOf = ({ meter }: Measure): { readonly length: number; readonly byThree: boolean } => {
  if (!meter) return { length: 1 / 4, byThree: false }
  const group = meter.groups[0] as number
  return { length: toNumber(meter.unit) * group, byThree: group === 3 }
}

const NEAR = 1e-6

/** The place within its beat as a share of it, 0 = on it. */
const onBeat = (m: Measure, at: Frac): number => {
  const into = toNumber(sub(at, m.at)) / beatOf(m).length
  const off = into - Math.floor(into + NEAR)
  return off < NEAR ? 0 : off
}

/** Whether a place divides its beat as the meter does: by twelve but not by four in a compound meter, else by eight. */
const onGrid = (m: Measure, off: number): boolean => {
  const { byThree } = beatOf(m)
  const parts = off * (byThree ? 12 : 8)
  const whole = Math.round(parts)
  return Math.abs(parts - whole) < NEAR && !(byThree && off > 0 && whole % 3 === 0)
}

/** How far the hand has come over the last few moments, in semitones from the lowest to the highest note. */
const traveled = (moments: readonly Moment[], x: Moment): number => {
  const i = moments.indexOf(x)
  const row = moments.slice(Math.max(0, i - 3), i + 1).filter(m => toNumber(sub(x.at, m.at)) <= 1 / 2)
  const tops = row.flatMap(m => m.top ?? [])
  const lows = row.flatMap(m => m.low ?? [])
  return tops.length < 2 ? 0 : Math.max(...tops) - Math.min(...lows)
}

/** One measure of one line; `here` begin in it, `before` and `next` stand around them. */
const factsOf = (
  m: Measure,
  moments: readonly Moment[],
  here: readonly Moment[],
  before: Moment | undefined,
  next: Moment | undefined,
  wholes: number,
  p: Playing,
  range: ReturnType<typeof usualRange>,
): Facts => {
  const fresh = here.filter(x => !x.continued)
  if (fresh.length === 0) return NOTHING
  const seconds = (from: Frac, to: Frac) => toNumber(sub(to, from)) * wholes
  const row = [...fresh, ...(next && !next.continued ? [next] : [])]
  const quickest = (notes: number): number => {
    let most = 0
    for (let i = 0; i + notes <= row.length; i++) {
      const run = row.slice(i, i + notes)
      const moves = run
        .slice(1)
        .reduce((n, x, k) => n + x.graces / 2 + (repeats(run[k], x) ? SAME_NOTE : 1), 0)
      const lasts = seconds((run[0] as Moment).at, (run[notes - 1] as Moment).at)
      if (lasts > 0) most = Math.max(most, moves / lasts)
    }
    return most
  }
  const perSecond = quickest(RUN)
  const whole = nominal(m.meter) ?? m.length
  const length = Math.max(toNumber(m.length), toNumber(whole) / 4) * wholes
  const mean = wholes > 0 ? fresh.length / length : 0
  const out = { shape: 0, widest: 0, register: 0, rhythm: 0, syncopations: 0, chords: 0 }
  let last = before
  let [direction, lasted] = [0, 0]
  for (const [i, x] of fresh.entries()) {
    const gap = last ? seconds(last.end, x.at) : Number.POSITIVE_INFINITY
    const rate = last && wholes > 0 ? 1 / seconds(last.at, x.at) : 1
    if (last && gap < 1 && x.top !== null && last.top !== null) {
      const step = x.top - last.top
      const width = Math.abs(step)
      const quick = 0.4 + Math.min(2, rate / 4)
      const far = p.hands ? traveled(moments, x) - p.easy : width - p.easy
      out.shape += (Math.max(0, far) / 6) * quick
      if (Math.sign(step) === -direction && width > 2) out.shape += 0.12 * quick
      if (step !== 0) direction = Math.sign(step)
      out.widest = Math.max(out.widest, width)
      const lasting = toNumber(sub(x.at, last.at))
      if (lasted > 0 && lasting !== lasted) out.rhythm += 0.08
      lasted = lasting
    }
    const off = onBeat(m, x.at)
    const beats = toNumber(sub(x.end, x.at)) / beatOf(m).length
    if (off > 0 && off + beats > 1 + NEAR) out.syncopations++
    if (!onGrid(m, off)) out.rhythm += 0.12
    if (off > 0 && i > 0 && gap > 0 && gap < 1) out.rhythm += 0.1
    if (x.top !== null && x.low !== null) {
      const high = Math.max(0, x.top - range.high) / 5
      const low = Math.max(0, range.low - x.top) / 8
      const position = p.firstPosition === null ? 0 : Math.max(0, x.top - p.firstPosition) / 8
      out.register += (high + low * p.low + position) * p.register
      const span = Math.max(0, x.top - x.low - 12) / 6
      out.chords += ((x.count - 1) * 0.12 + span) * (0.5 + Math.min(1.5, rate / 4))
    }
    last = x
  }
  // each counts once, and a little each time that it comes again
  const marks = fresh.filter((x, i) => !repeats(fresh[i - 1], x)).flatMap(x => [...new Set(x.foreign)])
  const foreign = new Set(marks).size
  const strange = foreign + 0.25 * (marks.length - foreign)
  const count = fresh.length
  // a few notes of a measure weigh less than a full one
  const full = Math.min(1, count / 4)
  return {
    notes: count + fresh.reduce((n, x) => n + x.graces, 0),
    perSecond,
    speed: (0.4 * perSecond + 0.3 * quickest(LONG_RUN) + 0.3 * mean) / p.quick,
    shape: (out.shape / Math.max(4, count)) * 1.4 * Math.min(1.5, 0.5 + count / 8),
    widest: out.widest,
    accidentals: (strange * p.accidental) / 3,
    foreign,
    register: (out.register / count) * full,
    highest: Math.max(...fresh.flatMap(x => x.top ?? [])),
    rhythm: out.rhythm + out.syncopations * 0.25,
    syncopations: out.syncopations,
    chords: (out.chords / Math.max(4, count)) * p.chords,
  }
}

/** Two hands: the harder of each, and a part of the other. */
const together = (a: Facts, b: Facts): Facts => {
  const both = (x: number, y: number) => Math.max(x, y) + 0.4 * Math.min(x, y)
  return {
    notes: a.notes + b.notes,
    perSecond: Math.max(a.perSecond, b.perSecond),
    speed: both(a.speed, b.speed),
    shape: both(a.shape, b.shape),
    widest: Math.max(a.widest, b.widest),
    accidentals: both(a.accidentals, b.accidentals),
    foreign: a.foreign + b.foreign,
    register: both(a.register, b.register),
    highest: Math.max(a.highest, b.highest),
    rhythm: both(a.rhythm, b.rhythm),
    syncopations: Math.max(a.syncopations, b.syncopations),
    chords: both(a.chords, b.chords),
  }
}

/** What is hard beyond measure is not harder than hard. */
const MOST = 1.6
const capped = (f: Facts): Omit<MeasureHardness, 'measure'> => ({
  ...f,
  perSecond: f.perSecond || null,
  highest: Number.isFinite(f.highest) ? f.highest : null,
  speed: Math.min(MOST, f.speed),
  shape: Math.min(MOST, f.shape),
  accidentals: Math.min(MOST, f.accidentals),
  register: Math.min(MOST, f.register),
  rhythm: Math.min(1, f.rhythm),
  chords: Math.min(MOST, f.chords),
})

/**
 * Hardness of each measure, in written order, at one tempo for all of it or (null) at the tempos of the part. Facts
 * only: what weighs how much is for `proposePassages`.
 */
export const hardness = (part: Part, at: Tempo | null = null): readonly MeasureHardness[] => {
  const playing = playingOf(part)
  const outside = outsideKey(part)
  const lines = (playing.hands ?? [null]).map(staff => {
    const moments = momentsOf(part, outside, staff)
    const index = new Map(moments.map((x, i) => [x, i]))
    return { moments, index, here: byMeasure(moments), range: usualRange(moments) }
  })
  const first = part.tempos.find(t => t.tempo)?.tempo ?? null
  return part.measures.map((m): MeasureHardness => {
    const tempo = at ?? tempoAt(part.tempos, m.at) ?? first
    const wholes = tempo ? SECONDS_OF_WHOLE / toNumber(quarters(tempo)) : 0
    const facts = lines.map(({ moments, index, here, range }) => {
      const now = here.get(m.index) ?? []
      const [begins, ends] = [now[0], now.at(-1)]
      if (!begins || !ends) return NOTHING
      const [i, k] = [begins, ends].map(x => index.get(x)) as [number, number]
      return factsOf(
        m,
        moments.slice(Math.max(0, i - 3), k + 1),
        now,
        moments[i - 1],
        moments[k + 1],
        wholes,
        playing,
        range,
      )
    })
    return { measure: m.index, ...capped(facts.reduce(together, NOTHING)) }
  })
}
