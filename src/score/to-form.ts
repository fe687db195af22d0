import type { Form } from '../music/form.ts'
import { add, compare, equal, type Frac, less, max, min, sub, zero } from '../music/fraction.ts'
import { type Meter, measureLength } from '../music/meter.ts'
import { ok, problem, type Result } from '../music/result.ts'
import { sameTempo, type Tempo } from '../music/tempo.ts'
import { fitted, isShort } from './meters.ts'
import { byMeasure, lastAt } from './places.ts'
import type { BreathFacts, Measure, Part, Place } from './score.ts'
import { markAt, tempoAt } from './tempo-line.ts'

/**
 * Measures in the order in which they are played (indices, as `performed` gives them or one after another as
 * written), from `start` whole notes into the first to `end` whole notes into the last.
 */
export type Span = {
  readonly measures: readonly number[]
  readonly start?: Frac
  readonly end?: Frac
}

/** A caesura or fermata in a form: what it adds is for the player to say, so the form holds it as adding nothing. */
type Hold = {
  readonly at: Frac
  readonly kind: 'caesura' | 'fermata'
  readonly shape: string
  /** Length of the note on which a fermata stands; absent over a bar line. */
  readonly note?: Frac
}

export type PartForm = {
  readonly form: Form
  readonly holds: readonly Hold[]
  /** Written measure and number of each measure of the form, pick-up included: what a screen calls it. */
  readonly numbers: readonly string[]
}

/** Written measures between two places, `to` included when it lies inside its measure. */
export const between = (part: Part, from: Place, to: Place): Span => {
  const [first, last] = [part.measures[from.measure], part.measures[to.measure]] as [Measure, Measure]
  const count = Math.max(0, to.measure - from.measure + 1)
  return {
    measures: Array.from({ length: count }, (_, i) => from.measure + i),
    start: sub(from.at, first.at),
    end: sub(to.at, last.at),
  }
}

/** What is left of one written measure, and where it stands in the form. */
type Piece = {
  readonly m: Measure
  /** Whole notes into the measure. */
  readonly from: Frac
  readonly to: Frac
  readonly at: Frac
}

/**
 * A span of a part as the form that is clicked. It begins with a pick-up where it starts inside a measure or with a
 * measure that is one; a measure in two halves is put together; any other that does not fill its meter gets a meter
 * of its own length. The first mark is the tempo that runs at its start, else `fallback`; without both it is refused.
 */
export const formOf = (part: Part, span: Span, fallback?: Tempo): Result<PartForm> => {
  try {
    return laidOut(part, span, fallback)
  } catch (e) {
    if (!(e instanceof RangeError)) throw e
    return problem('passage', 'lengths too fine to add up', 'measures whose lengths add up exactly')
  }
}

const laidOut = (part: Part, span: Span, fallback?: Tempo): Result<PartForm> => {
  const pieces = piecesOf(part, span)
  const [first, last] = [pieces?.[0], pieces?.at(-1)]
  if (!pieces || !first || !last) {
    const [from, to] = [part.measures[0], part.measures.at(-1)]
    return problem('passage', 'nothing to play there', `a part of measures ${from?.number} to ${to?.number}`)
  }
  const opening = tempoAt(part.tempos, add(first.m.at, first.from)) ?? fallback
  if (!opening) return problem('tempo of the passage', '', 'a tempo: the score names none before it')
  const { pickup, bars } = barsOf(pieces)
  const breaths = breathsIn(part, pieces)
  const length = endOf(last)
  const form: Form = {
    meters: metersOf(pickup, bars),
    marks: marksOf(part.tempos, pieces, opening),
    pickup: pickup?.length ?? zero,
    length,
    breaths: breaths
      .filter(b => b.kind === 'breath' && less(b.at, length))
      .map(b => ({ at: b.at, kind: 'breath', adds: zero })),
  }
  const holds = breaths.flatMap(b =>
    b.kind === 'breath'
      ? []
      : [
          {
            at: b.at,
            kind: b.kind,
            shape: b.shape,
            ...(b.kind === 'fermata' && less(zero, b.note) ? { note: b.note } : {}),
          },
        ],
  )
  return ok({ form, holds, numbers: [...(pickup ? [pickup] : []), ...bars].map(b => b.number) })
}

const endOf = (p: Piece): Frac => add(p.at, sub(p.to, p.from))

/** Null where a measure is not there; measures and ends that hold nothing are left out. */
const piecesOf = (part: Part, span: Span): readonly Piece[] | null => {
  const out: Piece[] = []
  let at = zero
  for (const [k, index] of span.measures.entries()) {
    const m = part.measures[index]
    if (!m) return null
    const from = k === 0 ? max(zero, span.start ?? zero) : zero
    const to = k === span.measures.length - 1 ? min(m.length, span.end ?? m.length) : m.length
    if (!less(from, to)) continue
    const piece = { m, from, to, at }
    out.push(piece)
    at = endOf(piece)
  }
  return out
}

/** What stands in a part, at its places in the form of a span: each time that its measure is played. */
export const inSpan = <T extends Place>(part: Part, span: Span, events: readonly T[]): readonly T[] => {
  const written = byMeasure(events)
  return (piecesOf(part, span) ?? []).flatMap(p =>
    (written.get(p.m.index) ?? []).flatMap(e => {
      const into = sub(e.at, p.m.at)
      const inside = compare(p.from, into) <= 0 && (less(into, p.to) || equal(into, p.m.length))
      return inside ? [{ ...e, at: add(p.at, sub(into, p.from)) }] : []
    }),
  )
}

type Bar = { readonly number: string; readonly at: Frac; readonly length: Frac; readonly meter: Meter }

/** A bar in the making: `missing` is what its first measure holds before the span begins. */
type Draft = { readonly m: Measure; readonly at: Frac; readonly missing: Frac; length: Frac }

const barsOf = (pieces: readonly Piece[]): { readonly pickup: Bar | null; readonly bars: readonly Bar[] } => {
  const drafts: Draft[] = []
  for (const p of pieces) {
    const open = drafts.at(-1)
    const length = sub(p.to, p.from)
    if (open && completes(open, p)) open.length = add(open.length, length)
    else drafts.push({ m: p.m, at: p.at, missing: p.from, length })
  }
  const bar = (d: Draft, meter: Meter): Bar => ({ number: d.m.number, at: d.at, length: d.length, meter })
  const bars = drafts.map((d, i) => {
    const whole = add(d.missing, d.length)
    const last = i === drafts.length - 1 && equal(d.missing, zero)
    const cut = isShort(d.m.meter, whole) && (last || (i === 0 && isPickup(d)))
    const fills = d.m.meter && equal(measureLength(d.m.meter), whole)
    return bar(d, d.m.meter && (fills || cut) ? d.m.meter : fitted(d.m.meter, whole))
  })
  const [first] = drafts
  const begins = first && (less(zero, first.missing) || isPickup(first))
  return begins ? { pickup: bars[0] ?? null, bars: bars.slice(1) } : { pickup: null, bars }
}

/** The second half of a divided measure, or the pick-up that a repeat leads back to. */
const completes = (open: Draft, p: Piece): boolean => {
  const { meter } = open.m
  return (
    meter !== null &&
    p.m.meter !== null &&
    alike(meter, p.m.meter) &&
    (p.m.implicit || p.m.index === 0) &&
    equal(p.from, zero) &&
    isShort(meter, add(open.missing, open.length)) &&
    compare(add(add(open.missing, open.length), p.m.length), measureLength(meter)) === 0
  )
}

/** A measure shorter than its meter at the very beginning or without a number of its own: its end is what is there. */
const isPickup = (d: Draft): boolean =>
  (d.m.index === 0 || d.m.implicit) && equal(d.missing, zero) && isShort(d.m.meter, d.length)

const alike = (a: Meter, b: Meter): boolean =>
  equal(a.unit, b.unit) && a.groups.length === b.groups.length && a.groups.every((g, i) => g === b.groups[i])

const metersOf = (pickup: Bar | null, bars: readonly Bar[]): Form['meters'] => {
  const all = [...(pickup ? [pickup] : []), ...bars]
  return all
    .filter((b, i) => i === 0 || !alike(b.meter, (all[i - 1] as Bar).meter))
    .map(b => ({ at: b.at, meter: b.meter }))
}

/** Marks of each run of measures that follow one another as written; a ramp that is cut ends with its tempo there. */
const marksOf = (tempos: Part['tempos'], pieces: readonly Piece[], opening: Tempo): Form['marks'] => {
  const out: { at: Frac; tempo: Tempo; ramp?: true }[] = []
  const put = (at: Frac, tempo: Tempo, ramp: boolean) => {
    const last = out.at(-1)
    if (last && !last.ramp && !ramp && sameTempo(last.tempo, tempo) && equal(last.tempo.unit, tempo.unit))
      return
    if (last && equal(last.at, at) && !out.at(-2)?.ramp) out.pop()
    out.push({ at, tempo, ...(ramp ? { ramp } : {}) })
  }
  for (const run of runsOf(pieces)) {
    const start = add(run.first.m.at, run.first.from)
    const end = add(run.last.m.at, run.last.to)
    const place = (at: Frac) => add(run.first.at, sub(at, start))
    const from = lastAt(tempos, start)
    const inside = tempos.slice(from + 1, lastAt(tempos, end) + 1).filter(m => m.tempo && less(m.at, end))
    const before = markAt(tempos, start)
    put(run.first.at, tempoAt(tempos, start) ?? out.at(-1)?.tempo ?? opening, before?.ramp ?? false)
    for (const m of inside) if (m.tempo) put(place(m.at), m.tempo, m.ramp)
    const cut = (inside.at(-1) ?? before)?.ramp ? tempoAt(tempos, end) : null
    if (cut) put(place(end), cut, false)
  }
  return out
}

const runsOf = (pieces: readonly Piece[]): readonly { readonly first: Piece; readonly last: Piece }[] => {
  const runs: { first: Piece; last: Piece }[] = []
  for (const p of pieces) {
    const run = runs.at(-1)
    const goesOn = run && equal(add(run.last.m.at, run.last.to), add(p.m.at, p.from))
    if (run && goesOn) run.last = p
    else runs.push({ first: p, last: p })
  }
  return runs
}

/** Breaths, caesuras and fermatas with their places in the form, each once however many voices have it. */
const breathsIn = (part: Part, pieces: readonly Piece[]): readonly PlacedBreath[] => {
  const written = byMeasure(part.breaths)
  const out = new Map<string, PlacedBreath>()
  for (const p of pieces)
    for (const b of written.get(p.m.index) ?? []) {
      const into = sub(b.at, p.m.at)
      if (!less(p.from, into) || less(p.to, into)) continue
      const at = add(p.at, sub(into, p.from))
      const note = min(sub(b.at, b.from), sub(into, p.from))
      out.set(`${b.kind} ${at.n}/${at.d}`, { at, kind: b.kind, shape: b.shape, note })
    }
  return [...out.values()].sort((a, b) => compare(a.at, b.at))
}

type PlacedBreath = {
  readonly at: Frac
  readonly kind: BreathFacts['kind']
  readonly shape: string
  /** What of the note before it lies within. */
  readonly note: Frac
}
