import { add, compare, type Frac, max, min, zero } from '../music/fraction.ts'
import { noteValueName } from '../music/note-value.ts'
import { ok, problem, type Result } from '../music/result.ts'
import { sameTempo } from '../music/tempo.ts'
import { breathsOf } from './holds.ts'
import { FINEST, MAX_LENGTH } from './limits.ts'
import { settled } from './measure-lengths.ts'
import { NO_TIME, nominal } from './meters.ts'
import { mergeRoads } from './road.ts'
import type {
  Local,
  MarkFacts,
  MarkShape,
  Measure,
  Part,
  Place,
  Placed,
  Score,
  ScorePart,
  Slur,
  SlurEnd,
  TempoMark,
  Time,
  WrittenMeasure,
  WrittenNotes,
} from './score.ts'
import { markAt, resolveTempos } from './tempo-line.ts'
import { printedMark, tempoWord } from './tempo-marks.ts'
import { clean, remarks, someNumbers } from './text.ts'

/** A part of a score whose measures could be read, and the time signature that runs when they begin. */
type Readable = {
  readonly id: string
  readonly measures: readonly WrittenMeasure[]
  readonly time: Time | null
}

/**
 * One part by its id (or its name), all of it or one movement that then stands alone: measures and places count from its
 * start, and nothing leads beyond its last bar line. It comes with what stands for all in any part: tempo marks and words, rehearsal marks,
 * repeats and jumps, and time signatures where the part itself has none.
 */
export const readPart = (
  score: Score,
  id: string,
  { from, to, ownHolds = false }: Wholly = ALL,
): Result<Part> => {
  const found = score.parts.find(p => p.id === id) ?? score.parts.find(p => p.name === id)
  if (!found) return problem('part', clean(id), score.parts.map(p => `${p.id} (${p.name})`).join(', '))
  if (!found.written.ok) return found.written
  const cut = (p: ScorePart): readonly Readable[] =>
    p.written.ok ? [movementOf(p.id, p.written.value, from, to)] : []
  const own = movementOf(found.id, found.written.value, from, to)
  try {
    const others = score.parts.filter(p => p !== found).flatMap(cut)
    return ok(assembled(found, own, found.notes().slice(from, to + 1), others, ownHolds))
  } catch (e) {
    if (!(e instanceof RangeError)) throw e
    return problem(
      `part ${found.id}, positions`,
      'too far or too fine',
      `at most ${MAX_LENGTH} whole notes, no finer than 1/${FINEST}`,
    )
  }
}

/** The tempo mark that stands where some measures begin: it is for all parts, so any that can be read tells it. */
export const markAtStart = (score: Score, { from, to }: Wholly): TempoMark | undefined => {
  const [own, ...others] = score.parts.flatMap(p =>
    p.written.ok ? [movementOf(p.id, p.written.value, from, to)] : [],
  )
  if (!own) return undefined
  try {
    const measures = placeMeasures(own, others, () => {})
    const shared = <T>(what: Shared<T>) => measures.flatMap(m => gathered(m, own, others, what, () => {}))
    const tempos = resolveTempos(shared(MARKS), shared(WORDS), measures, () => {})
    return measures[0] && markAt(tempos, measures[0].at)
  } catch (e) {
    if (!(e instanceof RangeError)) throw e
    return undefined
  }
}

/** Which measures, and whether fermatas of other parts are left out. */
type Wholly = { readonly from: number; readonly to: number; readonly ownHolds?: boolean }
const ALL: Wholly = { from: 0, to: Number.POSITIVE_INFINITY }

const movementOf = (id: string, all: readonly WrittenMeasure[], from: number, to: number): Readable => ({
  id,
  measures: all.slice(from, to + 1),
  time: all.slice(0, from).findLast(m => m.time)?.time ?? null,
})

const assembled = (
  found: ScorePart,
  own: Readable,
  played: readonly WrittenNotes[],
  others: readonly Readable[],
  ownHolds: boolean,
): Part => {
  const notes = remarks()
  found.warnings.forEach(notes.add)
  const measures = placeMeasures(own, others, notes.add)
  remarkLengths(measures, notes.add)
  const shared = <T>(what: Shared<T>) => measures.flatMap(m => gathered(m, own, others, what, notes.add))
  const mine = <T>(of: (index: number) => readonly Local<T>[] | undefined): readonly Placed<T>[] =>
    measures.flatMap(m => (of(m.index) ?? []).map(e => placed(m, e)))
  const inside = (measure: number, offset: Frac) => within(measures[measure] as Measure, offset)
  const words = shared(WORDS)
  const borrowed: string[] = []
  const breaths = measures.flatMap(m => {
    const mine = own.measures[m.index] as WrittenMeasure
    const held = breathsOf(mine, ownHolds ? [] : others.flatMap(p => p.measures[m.index] ?? []))
    if (held.borrowed) borrowed.push(m.number)
    return held.breaths.map(b => placed(m, b))
  })
  if (borrowed.length > 0)
    notes.add(
      `fermatas of other parts hold here too: m. ${someNumbers(borrowed)} (--own-holds leaves them out)`,
    )
  return {
    id: found.id,
    name: found.name,
    measures,
    notes: mine(i => played[i]?.notes),
    tempos: resolveTempos(shared(MARKS), words, measures, notes.add),
    words,
    rehearsals: shared(REHEARSALS),
    breaths: breaths.map(b => ({ ...b, from: inside(b.measure, b.from) })),
    slurs: pairSlurs(mine(i => played[i]?.slurs).map(s => ({ ...s, end: inside(s.measure, s.end) }))),
    transpositions: mine(i => own.measures[i]?.transpositions),
    warnings: notes.all(),
  }
}

/** A place from the bar line as a place from the start; never outside its measure. */
const within = (m: Measure, offset: Frac): Frac => usable(add(m.at, max(zero, min(offset, m.length))))

/** Positions that are neither too far nor too fine, so that any two of them can be compared and subtracted. */
const usable = (at: Frac): Frac => {
  if (at.d > FINEST || at.n / at.d > MAX_LENGTH) throw new RangeError('too far or too fine')
  return at
}
const placed = <T>(m: Measure, e: Local<T>): Placed<T> => ({ ...e, measure: m.index, at: within(m, e.at) })
const placeKey = (at: Frac): string => `${at.n}/${at.d}`

/** What stands for all parts whichever it is written in: an event of another part counts unless its key is there. */
type Shared<T> = {
  readonly of: (w: WrittenMeasure, own: boolean) => readonly Local<T>[]
  readonly key: (e: Local<T>) => string
  /** What to say of an event that is left out because another stands there. */
  readonly left?: (e: Local<T>, part: string, taken: Local<T>) => string | null
}

const MARKS: Shared<MarkFacts> = {
  of: w => w.marks,
  // a playing tempo and a printed mark at one place belong together, also across parts
  key: e => `${placeKey(e.at)} ${e.shape.kind === 'sound'}`,
  left: (e, part, taken) =>
    differ(e.shape, taken.shape)
      ? `part ${part} has ${printedMark(e.shape)}, ${printedMark(taken.shape)} is taken`
      : null,
}
const WORDS: Shared<{ readonly text: string }> = {
  of: (w, own) => (own ? w.words : tempoWordsOf(w)),
  key: e => `${placeKey(e.at)} ${e.text}`,
}
const REHEARSALS: Shared<{ readonly text: string }> = { of: w => w.rehearsals, key: WORDS.key }

/** One measure's events of a kind: all of the part itself, then what others add. */
const gathered = <T>(
  m: Measure,
  own: Readable,
  others: readonly Readable[],
  { of, key, left }: Shared<T>,
  remark: (text: string) => void,
): readonly (Placed<T> & { readonly part: string })[] => {
  const out: (Placed<T> & { readonly part: string })[] = []
  const taken = new Map<string, Local<T>>()
  for (const part of [own, ...others]) {
    const w = part.measures[m.index]
    const events = w ? of(w, part === own) : []
    const fresh: Local<T>[] = []
    for (const e of events) {
      const there = part === own ? undefined : taken.get(key(e))
      const said = there && left?.(e, part.id, there)
      if (said) remark(`measure ${m.number}: ${said}`)
      if (!there) fresh.push(e)
    }
    for (const e of fresh) {
      if (!taken.has(key(e))) taken.set(key(e), e)
      out.push({ ...placed(m, e), part: part.id })
    }
  }
  return out
}

const differ = (a: MarkShape, b: MarkShape): boolean =>
  a.kind === 'number' &&
  b.kind === 'number' &&
  a.bpm !== null &&
  b.bpm !== null &&
  !sameTempo({ unit: a.unit, bpm: a.bpm }, { unit: b.unit, bpm: b.bpm })

/** Of another part only the words that speak of the tempo concern this one. */
const tempoWordsOf = (w: WrittenMeasure): WrittenMeasure['words'] => {
  const marked = new Set(w.marks.map(m => placeKey(m.at)))
  return w.words.filter(e => marked.has(placeKey(e.at)) || tempoWord(e.text) !== null)
}

/** Where each measure stands and how long it is; what is not as its part holds it is told. */
const placeMeasures = (
  own: Readable,
  others: readonly Readable[],
  remark: (text: string) => void,
): readonly Measure[] => {
  const timed = [own, ...others].find(p => p.time || p.measures.some(m => m.time))
  let time: Time = timed?.time ?? NO_TIME
  let at = zero
  const told = new Map<string, string[]>()
  const out = own.measures.map((w, index) => {
    time = timed?.measures[index]?.time ?? time
    const elsewhere = others.flatMap(p => p.measures[index] ?? [])
    const next = own.measures[index + 1]
    const free = index === 0 || w.implicit || !next || next.implicit || next.number === w.number
    const { length, taken } = settled(w, elsewhere, time.meter, free)
    const all = [w, ...elsewhere]
    const { number, shown, implicit } = w
    if (taken === 'at its meter') told.set(time.text, [...(told.get(time.text) ?? []), number])
    if (taken === 'rounded up')
      remark(`measure ${number} holds no whole number of notes: its end waits a little`)
    const m: Measure = {
      index,
      number,
      shown,
      implicit,
      at,
      length,
      meter: time.meter,
      meterText: time.text,
      road: mergeRoads(all.map(o => o.road)),
      bar: all.map(o => o.bar).find(b => b !== null) ?? null,
      key: w.key,
    }
    at = usable(add(at, length))
    return m
  })
  for (const [meter, numbers] of told)
    remark(
      numbers.length === 1
        ? `measure ${numbers[0]}: its notes do not add up to ${meter}; it counts as ${meter}`
        : `measures ${someNumbers(numbers)}: their notes do not add up to ${meter}; each counts as ${meter}`,
    )
  return out
}

/** A pick-up, the last measure and a measure in two halves may be short; anything else is worth a look. */
const remarkLengths = (measures: readonly Measure[], remark: (text: string) => void): void => {
  for (const m of measures.slice(1)) {
    const whole = nominal(m.meter)
    const next = measures[m.index + 1]
    if (!whole || m.implicit || compare(m.length, whole) === 0) continue
    if (compare(m.length, whole) < 0 && (!next || next.implicit)) continue
    const [has, asks] = [m.length, whole].map(v => noteValueName(v).replaceAll('-', ' '))
    remark(`measure ${m.number}: it holds ${has} where ${m.meterText} asks for ${asks}`)
  }
}

/** Starts and stops of the same number by the onsets of their notes, whichever voice is written first. */
const pairSlurs = (ends: readonly Placed<SlurEnd>[]): readonly Slur[] => {
  const open = new Map<string, Place>()
  const slurs: Slur[] = []
  for (const { type, number, measure, at, end } of [...ends].sort((a, b) => compare(a.at, b.at))) {
    const from = open.get(number)
    if (type === 'start') open.set(number, { measure, at })
    else if (from) {
      slurs.push({ from, to: { measure, at: end } })
      open.delete(number)
    }
  }
  return slurs.sort((a, b) => compare(a.from.at, b.from.at))
}
