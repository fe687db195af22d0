import { add, compare, div, type Frac, frac, less, max, min, sub, times, zero } from '../music/fraction.ts'
import { ok, type Problem, problem, type Result } from '../music/result.ts'
import { MAX_MEASURE_LENGTH, MAX_MEASURES } from './limits.ts'
import { readTime } from './meters.ts'
import { readDirection, readSound } from './read-direction.ts'
import { type KeySignature, NO_KEY, readKey, readNotations, readNote } from './read-note.ts'
import { mergeRoads, NO_SIGNS, readBarline } from './road.ts'
import type { Local, Road, Time, Voice, WrittenMeasure, WrittenNotes } from './score.ts'
import { clean, exact, type Remarks } from './text.ts'
import { attr, child, childrenOf, type Element, textOf } from './xml.ts'

/** What lasts from one measure of a part to the next. */
type ReadingState = {
  /** Divisions of a quarter note. */
  divisions: Frac | null
  /** Lengths in whole notes by their text: a part has few, and each comes thousands of times. */
  lengths: Map<string, Frac>
  /** By staff; 0 = all staves. */
  keys: Map<number, KeySignature>
  /** A time signature at the end of a measure is for the next. */
  nextTime: Time | null
  nextForward: boolean
}

const ALL_STAVES = 0
const MOST_LENGTHS = 1000

/** Takes the measures of one part as they come. */
export type MeasureReader = {
  readonly add: (measure: Element) => void
  /** The notes of those that were added; none where nobody asked for them. */
  readonly notes: () => readonly WrittenNotes[]
  /** All of them; `where` names file and part in problems. */
  readonly all: (where: string) => Result<readonly WrittenMeasure[]>
}

/** `notes`: those too, else only what stands for all parts. */
export const measureReader = (remarks: Remarks, notes: boolean): MeasureReader => {
  const state: ReadingState = {
    divisions: null,
    lengths: new Map(),
    keys: new Map(),
    nextTime: null,
    nextForward: false,
  }
  const out: WrittenMeasure[] = []
  const played: WrittenNotes[] = []
  let count = 0
  let failed: Problem | null = null
  return {
    add: el => {
      count++
      if (failed || count > MAX_MEASURES) return
      const number = clean(attr(el, 'number') ?? '') || String(count)
      const inside: Mutable<WrittenNotes> | null = notes ? { notes: [], slurs: [] } : null
      const context = { number, state, where: `measure ${number}`, remarks, inside }
      const read = exactly(context.where, () => readMeasure(el, context))
      if (!read.ok) {
        failed = read.problem
        return
      }
      const { endsBefore, ...measure } = read.value
      const previous = out.at(-1)
      if (endsBefore && previous)
        out[out.length - 1] = { ...previous, road: mergeRoads([previous.road, endsBefore]) }
      out.push(measure)
      if (inside) played.push(inside)
    },
    notes: () => played,
    all: where => {
      if (count === 0) return problem(where, 'no measure', 'at least one measure')
      if (count > MAX_MEASURES) return problem(where, `${count} measures`, `at most ${MAX_MEASURES}`)
      return failed ? problem(`${where}, ${failed.field}`, failed.got, failed.accepted) : ok(out)
    },
  }
}

/** Fractions too fine to be exact are the file's fault here, not ours. */
const exactly = <T>(where: string, work: () => Result<T>): Result<T> => {
  try {
    return work()
  } catch (e) {
    if (!(e instanceof RangeError)) throw e
    return problem(`${where}, durations`, 'divisions too fine to add up', 'durations that add up exactly')
  }
}

type Context = {
  readonly number: string
  readonly state: ReadingState
  readonly where: string
  readonly remarks: Remarks
  /** Where notes go, if they are asked for. */
  readonly inside: Mutable<WrittenNotes> | null
}
type Mutable<T> = { -readonly [K in keyof T]: T[K] extends readonly (infer E)[] ? E[] : T[K] }

/** A note or rest makes its voice longer. */
const countIn = (voices: Voice[], name: string, at: Frac, length: Frac, sounds: boolean): void => {
  const i = voices.findIndex(v => v.name === name)
  const v = voices[i] ?? { from: at, holds: zero, sounds: false }
  const longer = { name, from: min(v.from, at), holds: add(v.holds, length), sounds: v.sounds || sounds }
  voices[i < 0 ? voices.length : i] = longer
}

const readMeasure = (
  el: Element,
  { number, state, where, remarks, inside }: Context,
): Result<WrittenMeasure & { readonly endsBefore: Road | null }> => {
  const remark = (text: string) => remarks.add(`measure ${number}: ${text}`)
  const m: Mutable<WrittenMeasure> & { endsBefore: Road | null } = {
    number,
    shown: clean(attr(el, 'text') ?? ''),
    implicit: attr(el, 'implicit') === 'yes',
    length: zero,
    voices: [],
    time: state.nextTime,
    marks: [],
    words: [],
    rehearsals: [],
    breaths: [],
    transpositions: [],
    road: state.nextForward ? { ...NO_SIGNS, forward: true } : NO_SIGNS,
    bar: null,
    key: null,
    endsBefore: null,
  }
  state.nextTime = null
  state.nextForward = false
  let cursor = zero
  let onset = zero
  const newTimes: Local<Time>[] = []

  const divisions = (): Frac => {
    if (!state.divisions) remark('no divisions are given before the first duration: 1 a quarter is used')
    state.divisions ??= frac(1)
    return times(state.divisions, 4)
  }
  const wholes = (text: string): Frac | null => {
    const known = state.lengths.get(text)
    if (known) return known
    const n = exact(text)
    const length = n && div(n, divisions())
    if (length && state.lengths.size < MOST_LENGTHS) state.lengths.set(text, length)
    return length
  }
  const durationOf = (of: Element): Result<Frac> => {
    const written = child(of, 'duration')
    const d = written ? wholes(written.text) : null
    if (d && !less(d, zero)) return ok(d)
    const got = written ? clean(written.text) : 'no duration'
    return problem(`${where}, duration of a ${of.name}`, got, 'a number of divisions, 0 or more')
  }
  const sign = (road: Partial<Road>) => {
    m.road = mergeRoads([m.road, { ...NO_SIGNS, ...road }])
  }

  const attributes = (a: Element): Result<null> => {
    const written = child(a, 'divisions')
    if (written) {
      const d = exact(written.text)
      if (!d || !less(zero, d))
        return problem(
          `${where}, divisions`,
          clean(written.text),
          'a number of divisions of a quarter above 0',
        )
      state.divisions = d
      state.lengths.clear()
    }
    for (const key of childrenOf(a, 'key')) {
      const staff = Number(attr(key, 'number')) || ALL_STAVES
      if (staff === ALL_STAVES) state.keys.clear()
      state.keys.set(staff, readKey(key))
      const fifths = Number(textOf(key, 'fifths') || Number.NaN)
      if (Number.isInteger(fifths) && compare(cursor, zero) === 0) m.key = fifths
    }
    const found = childrenOf(a, 'time').map(readTime)
    const [time] = found
    if (time) newTimes.push({ ...time, at: cursor })
    if (time && found.some(t => t.text !== time.text))
      remark(`staves of different meters: ${time.text} is taken`)
    if (time && !time.meter && !/^(senza|no )/.test(time.text))
      remark(`the time ${time.text} is not understood`)
    for (const t of childrenOf(a, 'transpose')) {
      const semitones = Number(textOf(t, 'chromatic')) + 12 * Number(textOf(t, 'octave-change'))
      if (Number.isFinite(semitones)) m.transpositions.push({ at: cursor, semitones })
    }
    return ok(null)
  }

  const note = (n: Element): Result<null> => {
    const grace = child(n, 'grace') !== undefined
    const d = grace ? ok(zero) : durationOf(n)
    if (!d.ok) return d
    const chord = child(n, 'chord') !== undefined
    if (!chord) {
      onset = cursor
      cursor = add(cursor, d.value)
      if (!grace) countIn(m.voices, textOf(n, 'voice') || '1', onset, d.value, child(n, 'rest') === undefined)
    }
    const end = add(onset, d.value)
    const { breaths, slurs } = readNotations(n, onset)
    for (const b of breaths) m.breaths.push({ ...b, at: end })
    if (inside) {
      const facts = readNote(
        n,
        d.value,
        staff => state.keys.get(staff) ?? state.keys.get(ALL_STAVES) ?? NO_KEY,
      )
      inside.notes.push({ ...facts, at: onset })
      for (const s of slurs) inside.slurs.push({ ...s, at: onset, end })
    }
    return ok(null)
  }

  const step = (c: Element): Result<null> => {
    if (c.name === 'note') return note(c)
    if (c.name === 'attributes') return attributes(c)
    if (c.name === 'backup' || c.name === 'forward') {
      const d = durationOf(c)
      if (!d.ok) return d
      cursor = c.name === 'forward' ? add(cursor, d.value) : sub(cursor, d.value)
      if (less(cursor, zero)) {
        remark('a backup leads before its bar line: it goes to the bar line')
        cursor = zero
      }
    } else if (c.name === 'direction' || c.name === 'sound') {
      const d = (c.name === 'direction' ? readDirection : readSound)(c, cursor, wholes)
      m.marks.push(...d.marks)
      m.words.push(...d.words)
      m.rehearsals.push(...d.rehearsals)
      d.remarks.forEach(remark)
      sign(d.road)
    } else if (c.name === 'barline') {
      const b = readBarline(c)
      const at = b.location === 'right' ? m.length : b.location === 'left' ? zero : cursor
      if (b.location === 'right' && b.repeat === null) m.bar = b.bar
      for (const f of childrenOf(c, 'fermata'))
        m.breaths.push({ kind: 'fermata', shape: clean(f.text), from: at, at })
      if (b.location === 'middle' && b.repeat) remark('a repeat sign inside the measure is left out')
      else if (b.location === 'left' && b.repeat === 'backward') {
        const { backward, endingStop, ...own } = b.signs
        m.endsBefore = { ...NO_SIGNS, backward: backward ?? null, endingStop: endingStop ?? false }
        sign(own)
      } else if (b.location === 'right' && b.repeat === 'forward') {
        const { forward, ...own } = b.signs
        state.nextForward = forward === true
        sign(own)
      } else sign(b.signs)
    }
    return ok(null)
  }

  for (const c of el.children) {
    const done = step(c)
    if (!done.ok) return done
    m.length = max(m.length, cursor)
    if (compare(m.length, frac(MAX_MEASURE_LENGTH)) > 0)
      return problem(where, 'a longer measure', `measures of at most ${MAX_MEASURE_LENGTH} whole notes`)
  }
  for (const time of newTimes)
    if (compare(time.at, zero) === 0) m.time = time
    else {
      state.nextTime = time
      if (less(time.at, m.length)) remark(`${time.text} begins inside the measure: it starts with the next`)
    }
  return ok(m)
}
