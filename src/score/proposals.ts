import { add, equal, type Frac, less, sub, times, toNumber } from '../music/fraction.ts'
import { QUARTER } from '../music/note-value.ts'
import type { Tempo } from '../music/tempo.ts'
import { hardness, type MeasureHardness } from './hardness.ts'
import { isShort } from './meters.ts'
import { byMeasure } from './places.ts'
import { semitones } from './playing.ts'
import { reasonOf } from './reasons.ts'
import type { Measure, Part, Place } from './score.ts'
import { tempoAt } from './tempo-line.ts'

/** A passage worth practicing, the hardest first; `why` says what is hard in it, `again` where the same comes back. */
export type ProposedPassage = {
  /** Its measures as printed; it ends on the beat of the next first note. */
  readonly name: string
  readonly from: Place
  readonly to: Place
  readonly why: string
  readonly again: readonly string[]
}

/*
 * How much weighs how much is our own choice, not a finding; tests/outside/hard-places.ts holds it against a reading by
 * hand. Each fact is about 1 where it alone makes a measure hard.
 */
export const WEIGHTS = {
  speed: 1.2,
  shape: 0.9,
  accidentals: 0.9,
  register: 0.8,
  rhythm: 0.5,
  chords: 0.7,
} as const
export type Weights = Readonly<Record<keyof typeof WEIGHTS, number>>
/** A measure beside the hardest one belongs to the passage from this share of its weight on. */
const BELONGS = 0.62
/** What the second, third and fourth measure of a passage add: the peak counts before the length. */
const NEXT = [0.4, 0.25, 0.1]
/** Less than this is not worth a passage. */
const WORTH = 0.55
const MOST_PASSAGES = 8
/** So many are looked at: what comes behind them is not hard beside them. */
const MOST_RUNS = 60
const SHORTEST = 2
const LONGEST = 8

type Weighed = MeasureHardness & { readonly weight: number }
type Run = { readonly from: number; readonly to: number; readonly weight: number; readonly peak: Weighed }

const median = (all: readonly number[]): number | undefined => [...all].sort((a, b) => a - b)[all.length >> 1]

/** What is quick for this part weighs more than what is quick for anybody. */
const weigh = (facts: readonly MeasureHardness[], weights: Weights): readonly Weighed[] => {
  const usual = median(facts.flatMap(f => f.perSecond ?? []))
  return facts.map(f => {
    const quicker = usual && f.perSecond ? Math.min(2, f.perSecond / usual) : 1
    const speed = f.speed * (0.4 + 0.6 * quicker)
    const of = { ...f, speed }
    const weight = Object.entries(weights).reduce((sum, [k, w]) => sum + w * of[k as keyof Weights], 0)
    return { ...f, weight }
  })
}

/** So many notes of a measure are compared with another: a measure that real music writes has fewer. */
const MOST_COMPARED = 128

type Likeness = (i: number, k: number) => number

/** How much two measures are alike, from 0 to 1: the same steps at the same places, on whatever note they begin. */
const likenessOf = (part: Part): Likeness => {
  const notes = byMeasure(part.notes.filter(n => n.kind !== 'rest' && !n.cue && !n.grace && !n.chord))
  const steps = part.measures.map(m => {
    const out = new Set<string>()
    const before = new Map<number, number>()
    for (const n of (notes.get(m.index) ?? []).slice(0, MOST_COMPARED)) {
      const pitch = n.pitch && semitones(n.pitch)
      const last = before.get(n.staff)
      const at = sub(n.at, m.at)
      const by = last === undefined || pitch === null ? 0 : pitch - last
      const step = Math.sign(by) * Math.round(Math.abs(by) / 2)
      // a note that is repeated says nothing of a shape: it is known by its pitch
      out.add(`${n.staff} ${at.n}/${at.d} ${step === 0 ? `= ${pitch}` : step}`)
      if (pitch !== null) before.set(n.staff, pitch)
    }
    return out
  })
  return (i, k) => {
    const [a, b] = [steps[i], steps[k]] as [Set<string>, Set<string>]
    let shared = 0
    for (const step of a) if (b.has(step)) shared++
    return (2 * shared) / Math.max(1, a.size + b.size)
  }
}

/** From the hardest measure to both sides while it stays hard, not over double bars. */
const runAround = (part: Part, all: readonly Weighed[], peak: Weighed, taken: ReadonlySet<number>): Run => {
  let [from, to] = [peak.measure, peak.measure]
  const open = (i: number) => i >= 0 && i < all.length && !taken.has(i)
  const wall = (i: number) => (part.measures[i] as Measure).bar !== null
  const weightAt = (i: number): number => (all[i] as Weighed).weight
  const enough = BELONGS * peak.weight
  for (;;) {
    const room = LONGEST - (to - from + 1)
    const l = room > 0 && open(from - 1) && !wall(from - 1) ? weightAt(from - 1) : -1
    const r = room > 0 && open(to + 1) && !wall(to) ? weightAt(to + 1) : -1
    // one easier measure between two hard ones does not divide them
    const over = (near: number, i: number, bar: number) =>
      near >= 0 && room > 1 && open(i) && !wall(bar) && weightAt(i) >= enough
    const farL = over(l, from - 2, from - 2)
    const farR = over(r, to + 2, to + 1)
    const short = to - from + 1 < SHORTEST
    if (Math.max(l, r) < 0) break
    if (l >= r && (l >= enough || short)) from--
    else if (r >= enough || short) to++
    else if (farR) to += 2
    else if (farL) from -= 2
    else break
  }
  const others = all
    .slice(from, to + 1)
    .filter(m => m !== peak)
    .map(m => m.weight)
    .sort((a, b) => b - a)
  const weight = others.reduce((sum, w, i) => sum + w * (NEXT[i] ?? 0), peak.weight)
  return { from, to, weight, peak }
}

/** From this much on two measures are the same music. */
const ALIKE = 0.7
/** From this much on it is told as the same again. */
const SAME = 0.9

/** Half of the measures of the shorter one stand in the other too. */
const sameMusic = (a: Run, b: Run, alike: Likeness): boolean => {
  const [short, long] = a.to - a.from < b.to - b.from ? [a, b] : [b, a]
  const measures = (r: Run) => Array.from({ length: r.to - r.from + 1 }, (_, i) => r.from + i)
  const shared = measures(short).filter(i => measures(long).some(k => alike(i, k) >= ALIKE)).length
  return 2 * shared >= short.to - short.from + 1 && shared > 0
}

/** All runs by weight; what comes again is named with the first and not proposed twice. */
const runsOf = (
  part: Part,
  all: readonly Weighed[],
): readonly (Run & { readonly again: readonly number[] })[] => {
  const alike = likenessOf(part)
  const taken = new Set<number>()
  const runs: Run[] = []
  for (const peak of [...all].sort((a, b) => b.weight - a.weight || a.measure - b.measure)) {
    if (runs.length >= MOST_RUNS) break
    if (taken.has(peak.measure) || peak.weight < WORTH || upbeat(part, peak.measure)) continue
    const run = runAround(part, all, peak, taken)
    for (let i = run.from; i <= run.to; i++) taken.add(i)
    runs.push(run)
  }
  const found: (Run & { again: number[] })[] = []
  for (const run of runs.sort((a, b) => b.weight - a.weight)) {
    const same = found.find(f => sameMusic(f, run, alike))
    if (same) {
      if (alike(same.peak.measure, run.peak.measure) >= SAME) same.again.push(run.from)
    } else found.push({ ...run, again: [] })
  }
  return found
}

const upbeat = (part: Part, i: number): boolean => {
  const m = part.measures[i]
  return m !== undefined && i === 0 && isShort(m.meter, m.length)
}

/** The hardest passages of a part, the hardest first. */
export const proposePassages = (
  part: Part,
  at: Tempo | null = null,
  weights: Weights = WEIGHTS,
): readonly ProposedPassage[] => {
  const all = weigh(hardness(part, at), weights)
  const runs = runsOf(part, all)
  return runs
    .filter(r => r.weight >= 0.2 * (runs[0] as Run).weight)
    .slice(0, MOST_PASSAGES)
    .map(run => {
      const { from, to } = ends(part, run)
      const numbers = [from.measure, run.to].map(i => (part.measures[i] as Measure).number)
      return {
        name: [...new Set(numbers)].join('-'),
        from,
        to,
        why: reasonOf(all.slice(run.from, run.to + 1)),
        again: [...run.again].sort((a, b) => a - b).map(i => (part.measures[i] as Measure).number),
      }
    })
}

/** The length of the first beat of a measure. */
const beatOf = (part: Part, { at, meter }: Measure): Frac =>
  tempoAt(part.tempos, at)?.unit ?? (meter ? times(meter.unit, meter.groups[0] as number) : QUARTER)

/** From a bar line, or where the slur over it begins, to the beat of the next first note. */
const ends = (part: Part, { from, to }: Run): { readonly from: Place; readonly to: Place } => {
  const [first, last] = [part.measures[from], part.measures[to]] as [Measure, Measure]
  const next = part.measures[to + 1]
  const start = first.at
  const before = part.measures[from - 1]
  const slur = part.slurs.find(
    s => less(s.from.at, start) && less(start, s.to.at) && before && !less(s.from.at, before.at),
  )
  const open = before && before.bar === null
  const head = slur && open ? onBeat(part, slur.from) : { measure: from, at: start }
  const sounds = next && part.notes.some(n => n.kind !== 'rest' && !n.continued && equal(n.at, next.at))
  const beat = sounds && beatOf(part, next)
  const over = beat && last.bar === null && less(beat, next.length)
  return {
    from: head,
    to: over
      ? { measure: next.index, at: add(next.at, beat) }
      : { measure: to, at: add(last.at, last.length) },
  }
}

/** The beat on or before a place. */
const onBeat = (part: Part, p: Place): Place => {
  const m = part.measures[p.measure] as Measure
  const beat = beatOf(part, m)
  const count = Math.floor(toNumber(sub(p.at, m.at)) / toNumber(beat) + 1e-9)
  let at = m.at
  for (let i = 0; i < count; i++) at = add(at, beat)
  return { measure: p.measure, at }
}
