import { compare, equal, type Frac, frac, less, mul, toNumber } from '../music/fraction.ts'
import type { Meter } from '../music/meter.ts'
import { compareTempo, inUnit, quarters, sameTempo, spoken, type Tempo } from '../music/tempo.ts'
import { countedBeat, counts, inBeat, sameBeat } from './counted-beat.ts'
import { lastAt } from './places.ts'
import { withoutSteps } from './playback-steps.ts'
import type { MarkFacts, Measure, Place, Placed, TempoMark, Words } from './score.ts'
import { afterRelation, agree, inRange, printedMark, tempoWord } from './tempo-marks.ts'
import { someNumbers } from './text.ts'

export type PlacedMark = Placed<MarkFacts> & { readonly part: string }

/** A rit. or accel. slides to the next mark only when that stands within so many measures. */
const LONGEST_RAMP = 8

/** A rit. or accel., the tempo that ran when it began, and whether a mark at its own place says what it leads to. */
type Slide = Words & { readonly up: boolean; readonly running: Tempo; readonly said: boolean }
type Say = (at: Place, text: string) => void

/**
 * All tempo marks of a part in written order, relations and "a tempo" resolved against what ran before. Where several
 * stand at one place the last of them is the one that holds. A printed mark wins over a playing tempo; a difference
 * is remarked. A rit. or accel. becomes a ramp where the tempo it leads to is written, else the tempo stays.
 */
export const resolveTempos = (
  marks: readonly PlacedMark[],
  words: readonly Words[],
  measures: readonly Measure[],
  remark: (text: string) => void,
): readonly TempoMark[] => {
  const line: TempoMark[] = []
  const slides: Slide[] = []
  const returns: Frac[] = []
  let running: Tempo | null = null
  let before: Tempo | null = null
  let first: Tempo | null = null
  /** The meter in which the running tempo was written. */
  let ranIn: Meter | null = null
  /** Words that no number follows: they are told. */
  const open: Words[] = []
  const number = (at: Place): string => (measures[at.measure] as Measure).number
  const beatOf = (m: PlacedMark): Frac | null => {
    const { meter } = measures[m.measure] as Measure
    if (m.shape.kind === 'sound' && running && sameBeat(meter, ranIn) && counts(m.sound, running.unit))
      return running.unit
    return m.sound ? countedBeat(meter, m.sound) : null
  }
  const say: Say = (at, text) => remark(`measure ${number(at)}: ${text}`)

  for (const group of byPlace(marks, words)) {
    const earlier: Tempo | null = running
    const resolved: readonly TempoMark[] = withoutDoubled(group.marks).map(m =>
      resolveMark(m, running, beatOf(m), say),
    )
    const holds: TempoMark | undefined =
      resolved.find(m => m.tempo && m.printed) ?? resolved.find(m => m.tempo)
    for (const m of resolved)
      if (holds?.tempo && m.tempo && !sameTempo(m.tempo, holds.tempo))
        say(m, `${named(m, m.tempo)} stands beside ${named(holds, holds.tempo)}, which is taken`)
    line.push(...resolved.filter(m => m !== holds), ...(holds ? [holds] : []))
    if (holds?.tempo) ranIn = (measures[holds.measure] as Measure).meter
    running = holds?.tempo ?? running
    first ??= running
    for (const w of group.words) {
      const word = tempoWord(w.text)
      if (word === 'other') {
        if (!holds?.tempo) open.push(w)
      } else if (word === 'slower' || word === 'faster') {
        const up = word === 'faster'
        const said = Boolean(holds?.tempo && earlier && compareTempo(holds.tempo, earlier) === (up ? 1 : -1))
        before ??= said ? earlier : running
        if (running) slides.push({ ...w, up, running, said })
      } else if (word !== null) {
        const target: Tempo | null = word === 'back' ? before : first
        if (!holds && target && running && !sameTempo(target, running)) {
          line.push({ ...w, tempo: target, from: 'word', printed: true, ramp: false })
          running = target
        }
        returns.push(w.at)
        before = null
      }
    }
  }
  const key = (at: Frac): string => `${at.n}/${at.d}`
  const headings = new Set(words.filter(isHeading).map(w => key(w.at)))
  const said = new Set(words.filter(w => tempoWord(w.text) !== null).map(w => key(w.at)))
  const heads = (m: TempoMark): boolean =>
    headings.has(key(m.at)) || (measures[m.measure - 1]?.bar ?? null) !== null
  const spokenAt = (m: TempoMark): boolean => said.has(key(m.at))
  const steps = withoutSteps(line, measures, spokenAt, heads)
  const ramps = withRamps(steps, slides, returns, heads, vague => open.push(...vague))
  if (open.length > 0) remark(`${gathered(open, number)}: no number follows, the click keeps its tempo there`)
  return ramps
}

/** A capital begins a new heading: "Andante". */
const isHeading = (w: Words): boolean => /^\p{Lu}/u.test(w.text) && tempoWord(w.text) === null

/** All words of the score that change the tempo, each with its measures: `"rit." m. 8, 13; "calando" m. 20`. */
const gathered = (said: readonly Words[], number: (at: Place) => string): string => {
  const places = new Map<string, string[]>()
  for (const w of [...said].sort((a, b) => compare(a.at, b.at)))
    places.set(w.text, [...(places.get(w.text) ?? []), number(w)])
  return [...places].map(([text, numbers]) => `"${text}" m. ${someNumbers(numbers)}`).join('; ')
}

const named = (m: TempoMark, tempo: Tempo): string => m.text || spoken(tempo)

type Group = { readonly at: Frac; readonly marks: readonly PlacedMark[]; readonly words: readonly Words[] }

const byPlace = (marks: readonly PlacedMark[], words: readonly Words[]): readonly Group[] => {
  const groups = new Map<string, { at: Frac; marks: PlacedMark[]; words: Words[] }>()
  const of = (at: Frac) => {
    const key = `${at.n}/${at.d}`
    const group = groups.get(key) ?? { at, marks: [], words: [] }
    groups.set(key, group)
    return group
  }
  for (const m of marks) of(m.at).marks.push(m)
  for (const w of words) of(w.at).words.push(w)
  return [...groups.values()].sort((a, b) => compare(a.at, b.at))
}

/** A playing tempo at the place of a printed mark belongs to that mark. */
const withoutDoubled = (marks: readonly PlacedMark[]): readonly PlacedMark[] => {
  const [one, ...more] = marks.filter(m => m.shape.kind !== 'sound')
  if (!one) return marks
  const sound = one.sound ?? marks.find(m => m.shape.kind === 'sound')?.sound ?? null
  return [{ ...one, sound }, ...more]
}

/** `beat`: the note value in which a playing tempo is counted there. */
const resolveMark = (m: PlacedMark, running: Tempo | null, beat: Frac | null, say: Say): TempoMark => {
  const { measure, at, part, printed, shape, sound } = m
  const text = printedMark(shape)
  const played: Tempo | null = sound && inBeat(sound, beat ?? countedBeat(null, sound))
  const instead = played ? ': the playback tempo is used' : ''
  const of = (tempo: Tempo | null, from: TempoMark['from']): TempoMark => {
    return {
      measure,
      at,
      tempo: tempo && inRange(tempo.bpm) ? tempo : null,
      from,
      text,
      printed,
      ramp: false,
      part,
    }
  }
  if (shape.kind === 'sound') return of(played, 'sound')
  if (shape.kind === 'relation') {
    const tempo = running && afterRelation(running, shape.before, shape.after, sound)
    if (!running) say(m, `${text} has no tempo before it${instead}`)
    else if (tempo && !inRange(tempo.bpm))
      say(m, `${text} gives ${spoken(tempo)}, which is left out${instead}`)
    return of(tempo && inRange(tempo.bpm) ? tempo : played, 'relation')
  }
  if (!shape.bpm) {
    say(m, `the mark ${text} holds no number from 1 to 999${instead}`)
    return of(played, 'mark')
  }
  const tempo: Tempo = { unit: shape.unit, bpm: shape.bpm }
  if (!sound || !played || agree(quarters(tempo), sound)) return of(tempo, 'mark')
  const withDot: Tempo = { unit: mul(tempo.unit, frac(3, 2)), bpm: tempo.bpm }
  if (beat && equal(beat, withDot.unit) && agree(quarters(withDot), sound)) {
    say(m, `${text} is played as ${spoken(withDot)}, so a dot is missing: that is used`)
    return of(withDot, 'mark')
  }
  if (absurd(quarters(tempo)) && !absurd(sound)) {
    say(
      m,
      `${text} can't be meant: ${spoken(played)}, its playback tempo, is used. What is right? Say it with --goal`,
    )
    return of(played, 'sound')
  }
  const [marked, heard] = [toNumber(quarters(tempo)), toNumber(sound)]
  say(m, `${text} is ${marked} quarters a minute but played at ${heard}: the mark is used`)
  return of(tempo, 'mark')
}

/** No one counts quarters so slowly or so quickly. */
const absurd = (quarters: Frac): boolean => less(quarters, frac(18)) || less(frac(420), quarters)

/** All three lists are in order of place, so each is walked once. */
const withRamps = (
  line: readonly TempoMark[],
  slides: readonly Slide[],
  returns: readonly Frac[],
  heads: (m: TempoMark) => boolean,
  vagueAt: (slides: readonly Slide[]) => void,
): readonly TempoMark[] => {
  const out = [...line]
  const ramps: TempoMark[] = []
  const vague: Slide[] = []
  let [next, back] = [0, 0]
  let end: Frac | null = null
  for (const slide of slides) {
    if (end && less(slide.at, end)) continue
    while (next < line.length && !(line[next]?.tempo && less(slide.at, (line[next] as TempoMark).at))) next++
    while (back < returns.length && !less(slide.at, returns[back] as Frac)) back++
    const [mark, undone] = [line[next], returns[back]]
    const leads =
      mark?.tempo &&
      !heads(mark) &&
      mark.measure - slide.measure <= LONGEST_RAMP &&
      !(undone && compare(undone, mark.at) <= 0) &&
      compareTempo(mark.tempo, slide.running) === (slide.up ? 1 : -1)
    if (!mark || !leads) {
      if (!slide.said) vague.push(slide)
      continue
    }
    end = mark.at
    const there = out[next - 1]
    const { up, running, said, ...facts } = slide
    if (there?.tempo && compare(there.at, slide.at) === 0) out[next - 1] = { ...there, ramp: true }
    else ramps.push({ ...facts, tempo: running, from: 'word', printed: true, ramp: true })
  }
  vagueAt(vague)
  return [...out, ...ramps].sort((a, b) => compare(a.at, b.at))
}

/** The mark that holds at a place, undefined before the first. `tempos` as in a part. */
export const markAt = (tempos: readonly TempoMark[], at: Frac): TempoMark | undefined => {
  let i = lastAt(tempos, at)
  while (i >= 0 && !tempos[i]?.tempo) i--
  return tempos[i]
}

/**
 * The tempo that holds at a place, sliding included (to a whole number); null before the first mark.
 * `tempos` as in a part.
 */
export const tempoAt = (tempos: readonly TempoMark[], at: Frac): Tempo | null => {
  const mark = markAt(tempos, at)
  if (!mark?.tempo || !mark.ramp) return mark?.tempo ?? null
  let n = lastAt(tempos, mark.at) + 1
  while (n < tempos.length && !tempos[n]?.tempo) n++
  const next = tempos[n]
  if (!next?.tempo) return mark.tempo
  const [from, to] = [mark.tempo.bpm, inUnit(next.tempo, mark.tempo.unit).bpm].map(toNumber) as [
    number,
    number,
  ]
  const share = (toNumber(at) - toNumber(mark.at)) / (toNumber(next.at) - toNumber(mark.at))
  const bpm = from + (to - from) * share
  return { unit: mark.tempo.unit, bpm: frac(Math.max(1, Math.round(bpm))) }
}
