import type { MeasureHardness } from '../../src/score/hardness.ts'
import type { Playing } from '../../src/score/playing.ts'
import type { Pitch } from '../../src/score/score.ts'

/**
 * What makes a measure hard, counted once more and slowly, from lists of notes in plain numbers: a second way to what
 * docs/import.md says in words. How much weighs how much is our own choice: no source.
 */
export const PARTS = 96

export type PlainNote = {
  /** Measure, and place and length in 96ths of a whole note, so that sums are exact. */
  readonly measure: number
  readonly at: number
  readonly length: number
  /** A chord has several; none = without a pitch. */
  readonly pitches: readonly Pitch[]
  readonly count: number
  readonly graces: number
  readonly tied: boolean
  readonly staff: number
}
export type PlainMeasure = {
  /** In 96ths; what the meter asks for and its beat in whole notes, null without one. */
  readonly at: number
  readonly length: number
  readonly full: number | null
  readonly beat: number
  readonly compound: boolean
  /** Sharps, or flats below 0, from here on; null = as before. */
  readonly fifths: number | null
  /** Quarters a minute from here on; null = as before. */
  readonly quarters: number | null
}

const height = ({ step, alter, octave }: Pitch): number =>
  12 * octave + [0, 2, 4, 5, 7, 9, 11]['CDEFGAB'.indexOf(step)]! + alter

/** What the signature does to a step: sharps come in the order F C G D A E B, flats the other way. */
const bySignature = (fifths: number, step: string): number =>
  fifths > 0 ? Number('FCGDAEB'.indexOf(step) < fifths) : -Number('BEADGCF'.indexOf(step) < -fifths)

/** Whether a pitch stands outside of the key that the four measures before have made usual, else of the signature. */
const outsideBy = (measures: readonly PlainMeasure[], notes: readonly PlainNote[]) => {
  return (p: Pitch, measure: number): boolean => {
    let begun = measure
    while (begun > 0 && measures[begun]!.fifths === null) begun--
    const since = Math.max(measure - 4, begun)
    const before = notes
      .filter(n => n.measure >= since && n.measure < measure && !n.tied)
      .flatMap(n => n.pitches)
      .filter(q => q.step === p.step)
      .map(q => q.alter)
    for (const alter of new Set(before)) {
      const share = before.filter(a => a === alter).length / before.length
      if (before.length >= 3 && share >= 0.6) return p.alter !== alter
    }
    return p.alter !== bySignature(measures[begun]!.fifths ?? 0, p.step)
  }
}

type Moment = {
  at: number
  end: number
  measure: number
  heights: number[]
  count: number
  graces: number
  tied: boolean
  foreign: string[]
}

const momentsOf = (notes: readonly PlainNote[], outside: ReturnType<typeof outsideBy>): Moment[] => {
  const places = [...new Set(notes.map(n => n.at))].sort((a, b) => a - b)
  return places.map(at => {
    const here = notes.filter(n => n.at === at)
    return {
      at,
      measure: here[0]!.measure,
      end: Math.max(...here.map(n => n.at + n.length)),
      heights: here.flatMap(n => n.pitches.map(height)),
      count: here.reduce((sum, n) => sum + n.count, 0),
      graces: here[0]!.graces,
      tied: here.every(n => n.tied),
      foreign: here
        .filter(n => !n.tied)
        .flatMap(n => n.pitches.filter(p => outside(p, n.measure)).map(p => `${p.step}${p.alter}`)),
    }
  })
}

const top = (m: Moment): number => Math.max(...m.heights)
const low = (m: Moment): number => Math.min(...m.heights)
const pitched = (m: Moment): boolean => m.heights.length > 0
const sameNotes = (a: Moment, b: Moment): boolean =>
  pitched(a) === pitched(b) && (!pitched(a) || (top(a) === top(b) && low(a) === low(b)))
const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)
const most = (all: readonly number[]): number => Math.max(0, ...all)

/** Facts of one line in one measure, before anything is capped. */
const factsOf = (all: readonly Moment[], index: number, m: PlainMeasure, p: Playing, wholeLasts: number) => {
  const begins = all.filter(x => x.measure === index)
  const heard = begins.filter(x => !x.tied)
  if (heard.length === 0) return null
  const place = (x: Moment): number => all.indexOf(x)
  const next = all[place(begins.at(-1)!) + 1]
  const row = [...heard, ...(next && !next.tied ? [next] : [])]
  const tops = all
    .filter(pitched)
    .map(top)
    .sort((a, b) => a - b)
  const usual = {
    low: tops[Math.floor(tops.length / 10)] ?? 0,
    high: tops[Math.floor(0.8 * tops.length)] ?? 0,
  }

  /** Moves a second in the quickest so many notes in a row. */
  const quickest = (n: number): number =>
    most(
      row.slice(n - 1).map((last, i) => {
        const moves = row
          .slice(i + 1, i + n)
          .map((x, k) => (sameNotes(row[i + k]!, x) ? 0.5 : 1) + x.graces / 2)
        return wholeLasts === 0 ? 0 : sum(moves) / (((last.at - row[i]!.at) / PARTS) * wholeLasts)
      }),
    )
  const mean =
    wholeLasts === 0
      ? 0
      : heard.length / (Math.max(m.length / PARTS, (m.full ?? m.length / PARTS) / 4) * wholeLasts)

  /** Each note with the one before it: of this measure, or the last one before the measure. */
  const steps = heard.map((x, i) => {
    const before = i > 0 ? heard[i - 1]! : all[place(begins[0]!) - 1]
    const silence = before ? ((x.at - before.end) / PARTS) * wholeLasts : Number.POSITIVE_INFINITY
    const rate = before && wholeLasts > 0 ? 1 / (((x.at - before.at) / PARTS) * wholeLasts) : 1
    const joined = before !== undefined && silence < 1 && pitched(x) && pitched(before)
    return { x, i, before, silence, rate, joined }
  })
  const moves = steps.flatMap(({ x, before, rate, joined }) =>
    joined
      ? [{ x, by: top(x) - top(before!), lasting: x.at - before!.at, quick: 0.4 + Math.min(2, rate / 4) }]
      : [],
  )
  const spread = (x: Moment): number => {
    // within the measure no more than the first note's three before it are looked at
    const earliest = Math.max(0, place(begins[0]!) - 3)
    const near = all
      .slice(Math.max(earliest, place(x) - 3), place(x) + 1)
      .filter(y => x.at - y.at <= PARTS / 2 && pitched(y))
    return near.length < 2 ? 0 : most(near.map(top)) - Math.min(...near.map(low))
  }
  const leaps = moves.map(
    ({ x, by, quick }) => (most([(p.hands ? spread(x) : Math.abs(by)) - p.easy]) / 6) * quick,
  )
  const turns = moves.map(({ by, quick }, i) => {
    const direction = Math.sign(moves.slice(0, i).findLast(b => b.by !== 0)?.by ?? 0)
    return by * direction < 0 && Math.abs(by) > 2 ? 0.12 * quick : 0
  })
  const changes = moves.filter(({ lasting }, i) => i > 0 && lasting !== moves[i - 1]!.lasting).length

  const inBeat = (x: Moment): number => {
    const beats = (x.at - m.at) / PARTS / m.beat
    const off = beats - Math.floor(beats + 1e-6)
    return off < 1e-6 ? 0 : off
  }
  const isWhole = (n: number): boolean => Math.abs(n - Math.round(n)) < 1e-6
  // three and six in a beat that is divided by three, two and four in one that is not
  const divides = (off: number): boolean =>
    m.compound ? isWhole(12 * off) && (off === 0 || !isWhole(4 * off)) : isWhole(8 * off)
  const syncopations = heard.filter(x => {
    const off = inBeat(x)
    return off > 0 && off + (x.end - x.at) / PARTS / m.beat > 1 + 1e-6
  }).length
  const against = heard.filter(x => !divides(inBeat(x))).length
  const afterRests = steps.filter(
    ({ x, i, silence }) => i > 0 && inBeat(x) > 0 && silence > 0 && silence < 1,
  ).length

  const heights = heard.filter(pitched).map(top)
  const register = sum(
    heights.map(
      h =>
        most([h - usual.high]) / 5 +
        (most([usual.low - h]) / 8) * p.low +
        (p.firstPosition === null ? 0 : most([h - p.firstPosition]) / 8),
    ),
  )
  const chords = sum(
    steps
      .filter(({ x }) => pitched(x))
      .map(
        ({ x, rate }) =>
          ((x.count - 1) * 0.12 + most([top(x) - low(x) - 12]) / 6) * (0.5 + Math.min(1.5, rate / 4)),
      ),
  )
  const signs = heard
    .filter((x, i) => i === 0 || !sameNotes(heard[i - 1]!, x))
    .flatMap(x => [...new Set(x.foreign)])
  const different = new Set(signs).size
  const count = heard.length
  return {
    notes: count + sum(heard.map(x => x.graces)),
    perSecond: quickest(4),
    speed: (0.4 * quickest(4) + 0.3 * quickest(8) + 0.3 * mean) / p.quick,
    shape: ((sum(leaps) + sum(turns)) / Math.max(4, count)) * 1.4 * Math.min(1.5, 0.5 + count / 8),
    widest: most(moves.map(({ by }) => Math.abs(by))),
    accidentals: ((different + (signs.length - different) / 4) * p.accidental) / 3,
    foreign: different,
    register: (register / count) * p.register * Math.min(1, count / 4),
    highest: heights.length > 0 ? Math.max(...heights) : null,
    rhythm: 0.08 * changes + 0.12 * against + 0.1 * afterRests + 0.25 * syncopations,
    syncopations,
    chords: (chords / Math.max(4, count)) * p.chords,
  }
}

/** `quarters`: one tempo for all, or null = as the measures say. */
export const hardPlainly = (
  measures: readonly PlainMeasure[],
  notes: readonly PlainNote[],
  p: Playing,
  quarters: number | null,
): readonly MeasureHardness[] => {
  const outside = outsideBy(measures, notes)
  const lines = (p.hands ?? [null]).map(staff =>
    momentsOf(
      notes.filter(n => staff === null || n.staff === staff),
      outside,
    ),
  )
  const said = measures.map(m => m.quarters)
  return measures.map((m, index) => {
    const tempo = quarters ?? said.slice(0, index + 1).findLast(q => q !== null) ?? said.find(q => q !== null)
    const wholeLasts = tempo ? 240 / tempo : 0
    const found = lines.flatMap(line => factsOf(line, index, m, p, wholeLasts) ?? [])
    type Fact = (typeof found)[number]
    const largest = (of: (f: Fact) => number | null): number => most(found.map(f => of(f) ?? 0))
    /** The harder hand, and a part of the other; not more than so much. */
    const hard = (of: (f: Fact) => number, cap = 1.6): number => {
      const [a = 0, b = 0] = found.map(of).sort((x, y) => y - x)
      return Math.min(cap, a + 0.4 * b)
    }
    return {
      measure: index,
      notes: sum(found.map(f => f.notes)),
      perSecond: largest(f => f.perSecond) || null,
      speed: hard(f => f.speed),
      shape: hard(f => f.shape),
      widest: largest(f => f.widest),
      accidentals: hard(f => f.accidentals),
      foreign: sum(found.map(f => f.foreign)),
      register: hard(f => f.register),
      highest: found.some(f => f.highest !== null) ? largest(f => f.highest) : null,
      rhythm: hard(f => f.rhythm, 1),
      syncopations: largest(f => f.syncopations),
      chords: hard(f => f.chords),
    }
  })
}
