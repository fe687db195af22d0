import { breathsAt, type Form, type Measure, measures, meterAt, unitAt } from '../music/form.ts'
import {
  add,
  compare,
  div,
  type Frac,
  floor,
  frac,
  less,
  min,
  mul,
  sub,
  times,
  toNumber,
  wholeTimes,
  zero,
} from '../music/fraction.ts'
import { type Meter, measureLength, type Pulse, pulses } from '../music/meter.ts'
import { compareTempo, type Tempo } from '../music/tempo.ts'
import type { CompileOptions, Guide, Only, Role } from './program.ts'

/** A count-in is never shorter than this, so that one can breathe in tempo. Seconds; common practice, no source. */
export const SHORTEST_COUNT_IN = 1.5
const FEWEST_CLICKS = 2

/** One click in the score: `at` in whole notes from the first note, negative in a count-in. */
export type Click = {
  readonly at: Frac
  readonly role: Role
  readonly measure: number
  readonly beat: number
}

export type ClickOptions = Pick<
  CompileOptions,
  'countIn' | 'again' | 'subdivide' | 'pulse' | 'only' | 'freeRitardando' | 'guide' | 'rests'
>

/**
 * The pulses of part of a measure, each with its subdivisions; positions as in the form. Subdivisions run on evenly
 * through unequal beats (the eighths of 2+2+3) where that comes out, else each beat is divided alike.
 */
const clicksOf = (m: Measure, unit: Frac, subdivide: number, counting: boolean): Click[] => {
  const all = pulses(m.meter, unit)
  const end = measureLength(m.meter)
  const lengths = all.map((p, i) => sub(all[i + 1]?.at ?? end, p.at))
  const running = div(lengths.reduce(min), frac(subdivide))
  const out: Click[] = []
  all.forEach((p: Pulse, i) => {
    const role: Role =
      i === 0 ? (counting ? 'countIn' : 'downbeat') : p.group ? 'group' : counting ? 'countIn' : 'beat'
    const length = lengths[i] ?? zero
    const runs = subdivide > 1 && wholeTimes(length, running) !== null
    const step = runs ? running : div(length, frac(subdivide))
    for (let k = 0, into = zero; less(into, length); k++, into = times(step, k))
      out.push({
        at: add(add(m.barline, p.at), into),
        role: k === 0 ? role : 'sub',
        measure: m.number,
        beat: i + 1,
      })
  })
  return out.filter(c => compare(c.at, m.from) >= 0 && less(c.at, m.to))
}

/** Count-in measures laid before position 0, the last one cut short where a pick-up completes it. */
const countInMeasures = (meter: Meter, whole: number, missing: Frac): Measure[] => {
  const length = measureLength(meter)
  const begin = sub(zero, add(times(length, whole), missing))
  const out = Array.from({ length: whole }, (_, i) => {
    const from = add(begin, times(length, i))
    return { number: i - whole, from, to: add(from, length), meter, barline: from }
  })
  const from = sub(zero, missing)
  return [...out, { number: 0, from, to: zero, meter, barline: from }]
}

/** How long and which clicks: whole measures are added until there are two clicks and 1.5 s. */
const countIn = (form: Form, tempo: Tempo, o: ClickOptions): { length: Frac; clicks: readonly Click[] } => {
  const meter = form.counted ?? meterAt(form, zero)
  const bar = measureLength(meter)
  const begun = sub(form.pickup, times(bar, floor(div(form.pickup, bar))))
  const missing = less(zero, begun) ? sub(bar, begun) : zero
  const lay = (whole: number) => {
    const bars = countInMeasures(meter, whole, missing)
    const length = add(times(bar, whole), missing)
    const clicks = bars.flatMap(m => clicksOf(m, o.pulse ?? tempo.unit, o.subdivide, true))
    const seconds = toNumber(div(times(length, 60), mul(tempo.unit, tempo.bpm)))
    const enough =
      clicks.filter(c => c.role !== 'sub').length >= FEWEST_CLICKS && seconds >= SHORTEST_COUNT_IN
    return { length, clicks, enough }
  }
  const { rests } = o
  if (rests) {
    const { length, clicks } = lay(rests)
    return { length, clicks: clicks.filter(c => c.role !== 'sub').map(c => ({ ...c, role: 'rest' })) }
  }
  if (o.countIn === 0) return { length: zero, clicks: [] }
  let whole = o.again && compare(missing, zero) > 0 ? 0 : o.countIn
  for (;;) {
    const laid = lay(whole)
    if (laid.enough) return laid
    whole = Math.max(whole + 1, o.countIn)
  }
}

const tap = (at: Frac, m: Measure): Click => ({ at, role: 'guide', measure: m.number, beat: 0 })

const groupTaps = (bars: readonly Measure[], guide: Extract<Guide, { group: Frac }>): Click[] => {
  const total = guide.ratios.reduce((a, b) => a + b, 0)
  const starts = guide.ratios.map((_, i) => guide.ratios.slice(0, i).reduce((a, b) => a + b, 0))
  return bars.flatMap(m => {
    const out: Click[] = []
    for (let at = m.barline; less(at, m.to); at = add(at, guide.group))
      for (const s of starts) {
        const note = add(at, div(times(guide.group, s), frac(total)))
        if (compare(note, m.from) >= 0 && less(note, m.to)) out.push(tap(note, m))
      }
    return out
  })
}

const noteTaps = (bars: readonly Measure[], onsets: readonly Frac[]): Click[] => {
  let i = 0
  return bars.flatMap(m => {
    const first = i
    while (i < onsets.length && less(onsets[i] as Frac, m.to)) i++
    return onsets.slice(first, i).map(at => tap(at, m))
  })
}

const guideClicks = (bars: readonly Measure[], guide: Guide): Click[] =>
  'onsets' in guide ? noteTaps(bars, guide.onsets) : groupTaps(bars, guide)

/** A repetition as it stands in the score: what `compile` turns into frames, and a MIDI file into ticks. */
export type Layout = {
  /** Length of the count-in, in whole notes. */
  readonly lead: Frac
  /** Clicks of the count-in, before 0. */
  readonly counts: readonly Click[]
  /** Beats and subdivisions of the passage that click, the beats that do not, and the altered rhythm over them. */
  readonly beats: readonly Click[]
  readonly unheard: readonly Click[]
  readonly guide: readonly Click[]
  /** Cues, at the end of the note before. */
  readonly breaths: readonly Click[]
  readonly bars: readonly Measure[]
}

/** Whether a click sounds when only some beats or measures do. Measures count from the first whole one; a pick-up sounds. */
const chosen = (only: Only | undefined) => {
  const { beats, measures } = only ?? {}
  return {
    beat: (c: Click): boolean => beats === undefined || beats.includes(c.beat),
    measure: (c: Click): boolean =>
      measures === undefined || (c.measure - 1) % (measures.on + measures.off) < measures.on,
  }
}

/** Strictly between the beginning and the end of a stretch that slows down. */
const slowing = (form: Form) => {
  const stretches = form.marks.flatMap((m, i) => {
    const next = form.marks[i + 1]
    return m.ramp && next && compareTempo(next.tempo, m.tempo) < 0 ? [{ from: m.at, to: next.at }] : []
  })
  return (at: Frac): boolean => stretches.some(s => less(s.from, at) && less(at, s.to))
}

/** The note value that is counted in a measure, the form's first mark being played at `tempo`. */
export const countedIn =
  (form: Form, tempo: Tempo, pulse?: Frac) =>
  (m: Measure): Frac =>
    pulse ?? (compare(m.from, form.marks[1]?.at ?? form.length) < 0 ? tempo.unit : unitAt(form, m.from))

/** Lays all clicks of a form, its first mark at `tempo`. Throws RangeError for a form without meter. */
export const layOut = (form: Form, tempo: Tempo, o: ClickOptions): Layout => {
  const { length, clicks } = countIn(form, tempo, o)
  const bars = measures(form)
  const counted = countedIn(form, tempo, o.pulse)
  const all = bars.flatMap(m => clicksOf(m, counted(m), o.subdivide, false))
  const only = chosen(o.only)
  const free = o.freeRitardando ? slowing(form) : () => false
  const heard = (c: Click): boolean => only.measure(c) && !free(c.at)
  const clicked = (c: Click): boolean => heard(c) && only.beat(c)
  return {
    lead: length,
    counts: clicks,
    beats: all.filter(clicked),
    unheard: all.filter(c => c.role !== 'sub' && !clicked(c)),
    guide: o.guide ? guideClicks(bars, o.guide).filter(heard) : [],
    // Before the first note and after the last one there is time to breathe without a cue.
    breaths: breathsAt(form, tempo)
      .filter(b => less(zero, b.at) && less(b.at, form.length))
      .map(b => ({
        at: b.at,
        role: 'breath',
        measure: (bars.findLast(m => compare(m.from, b.at) <= 0) as Measure).number,
        beat: 0,
      })),
    bars,
  }
}
