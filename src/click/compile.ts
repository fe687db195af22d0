import { type Form, type Measure, measures } from '../music/form.ts'
import {
  add,
  compare,
  div,
  type Frac,
  frac,
  less,
  min,
  sub,
  times,
  toNumber,
  wholeTimes,
  zero,
} from '../music/fraction.ts'
import { type Meter, measureLength, type Pulse, pulses } from '../music/meter.ts'
import type { Tempo } from '../music/tempo.ts'
import type { CompileOptions, Onset, Program, Role } from './program.ts'
import { tempoMap } from './tempo-map.ts'

/** A count-in is never shorter than this, so that one can breathe in tempo. Seconds; common practice, no source. */
const SHORTEST_COUNT_IN = 1.5
const FEWEST_CLICKS = 2

type Click = { at: Frac; role: Role; measure: number; beat: number }

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
  const out: Measure[] = Array.from({ length: whole }, (_, i) => {
    const from = add(begin, times(length, i))
    return { number: i - whole, from, to: add(from, length), meter, barline: from }
  })
  if (compare(missing, zero) > 0) {
    const from = sub(zero, missing)
    out.push({ number: 0, from, to: zero, meter, barline: from })
  }
  return out
}

/** How long and which clicks: whole measures are added until there are two clicks and 1.5 s. */
const countIn = (form: Form, unit: Frac, o: CompileOptions, seconds: (length: Frac) => number) => {
  const meter = form.meters[0]?.meter
  if (!meter) throw new RangeError('a form needs a meter')
  const missing = compare(form.pickup, zero) > 0 ? sub(measureLength(meter), form.pickup) : zero
  const lay = (whole: number) => {
    const bars = countInMeasures(meter, whole, missing)
    const length = add(times(measureLength(meter), whole), missing)
    const clicks = bars.flatMap(m => clicksOf(m, unit, o.subdivide, true))
    const enough =
      clicks.filter(c => c.role !== 'sub').length >= FEWEST_CLICKS && seconds(length) >= SHORTEST_COUNT_IN
    return { length, clicks, enough }
  }
  if (o.countIn === 0) return { length: zero, clicks: [] }
  let whole = o.again && compare(missing, zero) > 0 ? 0 : o.countIn
  for (;;) {
    const laid = lay(whole)
    if (laid.enough) return laid
    whole = Math.max(whole + 1, o.countIn)
  }
}

const guideClicks = (bars: readonly Measure[], guide: NonNullable<CompileOptions['guide']>): Click[] => {
  const total = guide.ratios.reduce((a, b) => a + b, 0)
  const starts = guide.ratios.map((_, i) => guide.ratios.slice(0, i).reduce((a, b) => a + b, 0))
  return bars.flatMap(m => {
    const out: Click[] = []
    for (let at = m.barline; less(at, m.to); at = add(at, guide.group))
      for (const s of starts) {
        const note = add(at, div(times(guide.group, s), frac(total)))
        if (compare(note, m.from) >= 0 && less(note, m.to))
          out.push({ at: note, role: 'guide', measure: m.number, beat: 0 })
      }
    return out
  })
}

/**
 * Compiles a form, with its first mark at `tempo`, into frames and roles: rest, count-in, passage.
 * Each onset is the rounded exact time from its segment's start (never accumulated), segments start on whole frames.
 * Throws RangeError for a form without meter or tempo mark.
 */
export const compile = (form: Form, tempo: Tempo, o: CompileOptions): Program => {
  const map = tempoMap(form, tempo, o.rate)
  const counted = (length: Frac): number => map.lasting(length, zero)
  const intro = countIn(form, tempo.unit, o, length => counted(length) / o.rate)

  const restFrames = Math.round((o.rest ?? 0) * o.rate)
  const firstNote = restFrames + Math.round(counted(intro.length))
  const end = firstNote + Math.round(map.frames(form.length))

  const signals = (o.signals ?? []).map(s => ({
    frame: Math.round(s.after * o.rate),
    role: s.role,
    measure: 0,
    beat: 0,
  }))
  const counts = intro.clicks.map(({ at, ...click }) => ({
    ...click,
    frame: restFrames + Math.round(counted(add(at, intro.length))),
  }))
  const bars = measures(form)
  const unitAt = (at: Frac): Frac =>
    compare(at, zero) <= 0
      ? tempo.unit
      : (form.marks.findLast((m, i) => i > 0 && compare(m.at, at) <= 0)?.tempo.unit ?? tempo.unit)
  const beats = bars.flatMap(m => clicksOf(m, unitAt(m.from), o.subdivide, false))
  const guide = o.guide ? guideClicks(bars, o.guide) : []
  // Before the first note and after the last one there is time to breathe without a cue.
  const breaths = (form.breaths ?? [])
    .map(b => ({
      frame: firstNote + Math.round(map.until(b.at)),
      role: 'breath' as const,
      measure: bars.findLast(m => compare(m.from, b.at) <= 0)?.number ?? 0,
      beat: 0,
    }))
    .filter(b => b.frame > firstNote && b.frame < end)
  const frameOf = (at: Frac): number => firstNote + Math.round(map.frames(at))
  const clicks = [...beats, ...guide].map(({ at, ...click }) => ({ ...click, frame: frameOf(at) }))
  const onsets: Onset[] = [...signals, ...counts, ...clicks, ...breaths].sort((a, b) => a.frame - b.frame)

  const pulsesPlayed = beats.filter(c => c.role !== 'sub')
  const lastBeat = frameOf(pulsesPlayed.at(-1)?.at ?? zero)
  const lastBar = bars.at(-1)
  const longerThanOne = lastBar !== undefined && less(measureLength(lastBar.meter), form.length)
  return {
    rate: o.rate,
    frames: end,
    onsets,
    segments: [
      ...(restFrames > 0 ? [{ kind: 'rest' as const, frame: 0 }] : []),
      ...(toNumber(intro.length) > 0 ? [{ kind: 'countIn' as const, frame: restFrames }] : []),
      { kind: 'passage', frame: firstNote },
    ],
    firstNote,
    verdictFrom: longerThanOne ? frameOf(lastBar.from) : lastBeat,
    lastBeat,
    end,
  }
}

/** Small signals alone, `every` seconds apart: nothing else sounds. */
export const signalProgram = (roles: readonly Role[], rate: number, every = 0.16): Program => {
  const frames = Math.round((roles.length * every + 0.4) * rate)
  return {
    rate,
    frames,
    onsets: roles.map((role, i) => ({ frame: Math.round(i * every * rate), role, measure: 0, beat: 0 })),
    segments: [{ kind: 'rest', frame: 0 }],
    firstNote: frames,
    verdictFrom: frames,
    lastBeat: frames,
    end: frames,
  }
}
