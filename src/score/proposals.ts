import { add, compare, equal, type Frac, frac, less, max, sub, toNumber, zero } from '../music/fraction.ts'
import type { Tempo } from '../music/tempo.ts'
import { hardness, type MeasureHardness, type Moment, melody } from './hardness.ts'
import { isShort } from './meters.ts'
import { lastAt } from './places.ts'
import type { Part, Place } from './score.ts'

/** A small unit to practice; `why` says in words what it ends with. */
export type ProposedSection = { readonly from: Place; readonly to: Place; readonly why: string }
/** A passage worth practicing; `why` says what is hard in it. */
export type ProposedPassage = ProposedSection & { readonly sections: readonly ProposedSection[] }

/*
 * How much weighs how much is our own choice, not a finding: half as fast again as the middle of the part, or four
 * leaps, or six changes of note length, or four accidentals in a measure are one point each; one point makes it hard.
 */
const FASTER = 0.5
const LEAPS = 4
const CHANGES = 6
const ACCIDENTALS = 4
const WORTH_NAMING = 0.25
const MOST_PASSAGES = 8
const LONGEST_PASSAGE = 16
/** Measures of a section: as near to two as the music lets, at most four. */
const WISHED = 2
const LONGEST = 4

type Weighed = MeasureHardness & { readonly rate: number; readonly weight: number }

/** Where music may be cut: a section ends at `to`, the next begins at `next`. */
type Cut = { readonly to: Place; readonly next: Place; readonly strength: number; readonly why: string }

/** The hardest passages of a part in written order, cut where a player would: at rests, breaths and slur ends. */
export const proposePassages = (part: Part, at: Tempo | null = null): readonly ProposedPassage[] => {
  const facts = hardness(part, at)
  const middle = median(facts.flatMap(f => f.perSecond ?? []))
  const weighed = facts.map(f => weigh(f, middle))
  const cuts = cutsOf(part)
  const runs = runsOf(weighed).filter(run => run.length > 1 || !isUpbeat(part, run[0]))
  return likes(runs)
    .sort((a, b) => total(b.run) - total(a.run))
    .slice(0, MOST_PASSAGES)
    .sort((a, b) => startOf(a.run) - startOf(b.run))
    .map(({ run, again }) => {
      const { from, to } = widened(part, run, cuts)
      const also = again.map(r => part.measures[startOf(r)]?.number).join(', ')
      const why = reason(run, middle) + (also === '' ? '' : `; the same again from measure ${also}`)
      return { from, to, why, sections: sectionsOf(part, from, to, cuts) }
    })
}

const startOf = (run: readonly Weighed[]): number => run[0]?.measure ?? 0
const isUpbeat = (part: Part, m: Weighed | undefined): boolean => {
  const measure = part.measures[m?.measure ?? 0]
  return measure !== undefined && isShort(measure.meter, measure.length)
}

/** Runs with the same facts measure by measure (a refrain) are one passage that comes again. */
const likes = (runs: readonly (readonly Weighed[])[]) => {
  const found = new Map<string, { run: readonly Weighed[]; again: (readonly Weighed[])[] }>()
  for (const run of runs) {
    const facts = run.map(({ measure, rate, weight, perSecond, ...f }) => [
      measure - startOf(run),
      ...Object.values(f),
    ])
    const key = facts.join(' ')
    const first = found.get(key)
    if (first) first.again.push(run)
    else found.set(key, { run, again: [] })
  }
  return [...found.values()]
}

const median = (all: readonly number[]): number => [...all].sort((a, b) => a - b)[all.length >> 1] ?? 0

const weigh = (f: MeasureHardness, middle: number): Weighed => {
  const rate = f.perSecond && middle > 0 ? Math.min(2, Math.max(0, (f.perSecond / middle - 1) / FASTER)) : 0
  const part = (n: number, of: number) => Math.min(1, n / of)
  const weight = rate + part(f.leaps, LEAPS) + part(f.changes, CHANGES) + part(f.foreign, ACCIDENTALS)
  return { ...f, rate, weight }
}

const total = (run: readonly Weighed[]): number => run.reduce((sum, m) => sum + m.weight, 0)

/** Hard measures next to each other; one easier measure between two does not divide them. */
const runsOf = (all: readonly Weighed[]): (readonly Weighed[])[] => {
  const runs: Weighed[][] = []
  for (const m of all) {
    if (m.weight < 1) continue
    const run = runs.at(-1)
    const near = run && m.measure - (run.at(-1)?.measure ?? 0) <= 2
    const room = run && m.measure - (run[0]?.measure ?? 0) < LONGEST_PASSAGE
    if (run && near && room) run.push(m)
    else runs.push([m])
  }
  return runs
}

const reason = (run: readonly Weighed[], middle: number): string => {
  const most = (of: (m: Weighed) => number) => Math.max(...run.map(of))
  const sum = (of: (m: Weighed) => number) => run.reduce((n, m) => n + of(m), 0)
  const per = (n: number, of: number) => n / run.length / of >= WORTH_NAMING
  const said: string[] = []
  const fastest = most(m => m.perSecond ?? 0)
  if (most(m => m.rate) >= WORTH_NAMING)
    said.push(`up to ${fastest.toFixed(1)} notes a second (the middle of the part is ${middle.toFixed(1)})`)
  const counted: readonly (readonly [number, number, string])[] = [
    [sum(m => m.leaps), LEAPS, 'leap* wider than a fifth'],
    [sum(m => m.changes), CHANGES, 'change* of note length'],
    [sum(m => m.foreign), ACCIDENTALS, 'accidental*'],
  ]
  for (const [n, of, what] of counted)
    if (per(n, of)) said.push(`${n} ${what.replace('*', n === 1 ? '' : 's')}`)
  return said.join(', ')
}

/** Whole notes; a hair less, for lengths are compared as plain numbers. */
const REST = 1 / 8 - 1e-9
const PHRASE = frac(1, 2)

/** All places to cut, in order. A rest is an eighth or longer; a slur counts as a phrase from a half note on. */
const cutsOf = (part: Part): readonly Cut[] => {
  const moments = melody(part)
  const number = (i: number) => part.measures[i]?.number ?? String(i + 1)
  const nextFrom = (at: Frac): Moment | undefined => moments[lastAt(moments, at)]
  const after = (at: Frac): Moment | undefined => {
    const here = nextFrom(at)
    return here && equal(here.at, at) ? here : moments[lastAt(moments, at) + 1]
  }
  const cuts: Cut[] = []
  const cut = (
    to: Place,
    strength: number,
    why: string,
    next: Place & { continued?: boolean } = after(to.at) ?? to,
  ) => {
    if (!next.continued) cuts.push({ to, next: { measure: next.measure, at: next.at }, strength, why })
  }
  moments.forEach((m, i) => {
    const next = moments[i + 1]
    if (next && toNumber(next.at) - toNumber(m.end) >= REST)
      cut({ measure: m.measure, at: m.end }, 3, `ends at the rest in measure ${number(m.measure)}`, next)
  })
  for (const { measure, at, kind } of part.breaths)
    cut({ measure, at }, 3, `ends at the ${kind} in measure ${number(measure)}`)
  for (const s of part.slurs)
    if (!less(sub(s.to.at, s.from.at), PHRASE))
      cut(s.to, 2, `ends with the slur in measure ${number(s.to.measure)}`)
  for (const m of part.measures)
    cut(
      { measure: m.index, at: add(m.at, m.length) },
      1,
      `ends at the bar line after measure ${number(m.index)}`,
    )
  return cuts.sort((a, b) => compare(a.to.at, b.to.at) || b.strength - a.strength)
}

const lengthAt = (part: Part, measure: number): Frac => part.measures[measure]?.length ?? zero

/** A passage begins and ends where the music does, at most a measure beyond its hard measures. */
const widened = (part: Part, run: readonly Weighed[], cuts: readonly Cut[]): { from: Place; to: Place } => {
  const first = part.measures[run[0]?.measure ?? 0]
  const last = part.measures[run.at(-1)?.measure ?? 0]
  const start = first?.at ?? zero
  const end = last ? add(last.at, last.length) : zero
  const earliest = sub(start, lengthAt(part, (first?.index ?? 0) - 1))
  const latest = add(end, lengthAt(part, (last?.index ?? 0) + 1))
  const before = cuts.filter(c => !less(start, c.next.at) && !less(c.next.at, earliest))
  const behind = cuts.filter(c => !less(c.to.at, end) && !less(latest, c.to.at))
  const strongest = (list: readonly Cut[]) => Math.max(0, ...list.map(c => c.strength))
  const head = before.findLast(c => c.strength === strongest(before))
  const tail = behind.find(c => c.strength === strongest(behind))
  return {
    from: head?.next ?? { measure: first?.index ?? 0, at: start },
    to: tail?.to ?? { measure: last?.index ?? 0, at: end },
  }
}

const sectionsOf = (part: Part, from: Place, to: Place, cuts: readonly Cut[]): readonly ProposedSection[] => {
  const out: ProposedSection[] = []
  const inside = cuts.filter(c => less(from.at, c.to.at) && less(c.next.at, to.at))
  let start = from
  for (;;) {
    // beside a pick-up its neighbor is the measure to count in
    const measure = max(lengthAt(part, start.measure), lengthAt(part, start.measure + 1))
    const long = (at: Frac): number =>
      compare(measure, zero) > 0 ? (toNumber(at) - toNumber(start.at)) / toNumber(measure) : 0
    const whole = long(to.at)
    const fitting = inside.filter(c => {
      const here = long(c.to.at)
      return here >= 1 && here <= LONGEST && whole - long(c.next.at) >= 1
    })
    const rating = (c: Cut) => c.strength - Math.abs(long(c.to.at) - WISHED)
    const [best] = [...fitting].sort((a, b) => rating(b) - rating(a))
    if (!best || whole <= WISHED + 1) {
      const ends = cuts.find(c => equal(c.to.at, to.at))
      out.push({ from: start, to, why: ends?.why ?? 'ends with the passage' })
      return out
    }
    out.push({ from: start, to: best.to, why: best.why })
    start = best.next
  }
}
