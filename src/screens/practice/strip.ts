import { beatsOf } from '../../click/beats.ts'
import { type Breath, type BreathKind, breathsAt, type Measure, measures, waitsIn } from '../../music/form.ts'
import { add, compare, type Frac, sub, toNumber, zero } from '../../music/fraction.ts'
import { restWords } from '../../music/long-rests.ts'
import { measureLength, pulses } from '../../music/meter.ts'
import { placeAt } from '../../music/place.ts'
import { beatNow, waitsAtEnd } from './legs.ts'
import { clickOf, numberOf, type Session, sounding } from './session.ts'

/** One measure drawn as a row: bar lines at the ends, beats at their true distances, a mark where the sound is. */
export type Strip = { readonly row: string; readonly mark: number | null; readonly label: string }

const BAR = '┃'
const LINE = '─'
const MARK = '●'
/** The breath mark of the part. */
const COMMA = ','
/** A fermata, as far as every console's letters have one: the music waits here for the pedal. */
const WAITS = '∩'

/** The form's measure of that number; a count-in measure looks like the first. */
const shape = (bars: readonly Measure[], number: number): Measure | undefined =>
  bars.find(m => m.number === number) ?? bars.find(m => m.number >= 1) ?? bars[0]

/** Where a place in a measure is drawn, whole notes from its bar line. */
const columns =
  (bar: Measure, width: number) =>
  (into: Frac): number =>
    1 + Math.min(width - 3, Math.floor((toNumber(into) / toNumber(measureLength(bar.meter))) * (width - 2)))

/** Where a mark is drawn: behind the note before it. */
const beside = (bar: Measure, at: Frac, width: number): number =>
  Math.max(1, columns(bar, width)(sub(at, bar.barline)) - 1)

/** The beat strip, `width` columns wide. `frame` = null shows the first measure at rest. */
export const strip = (s: Session, frame: number | null, width: number): Strip => {
  const bars = measures(s.setup.form)
  const take = sounding(s)
  const heard = take && !take.over ? beatNow(take, frame) : null
  const number = heard?.measure ?? 1
  const bar = shape(bars, number)
  if (!bar) return { row: '', mark: null, label: '' }
  const inner = width - 2
  const tempo = take?.tempo ?? s.ladder.rungs[s.ladder.at]
  const beats = pulses(bar.meter, (tempo && clickOf(s.setup, tempo).pulse) ?? tempo?.unit ?? bar.meter.unit)
  const column = columns(bar, width)
  const cells = [BAR, ...Array(inner).fill(LINE), BAR] as string[]
  beats.forEach((p, i) => {
    const text = String(i + 1)
    for (let k = 0; k < text.length; k++) cells[column(p.at) + k] = text[k] as string
  })
  const marks = tempo ? breathsAt(s.setup.form, tempo) : []
  const waiting = waitsIn(s.setup.form)
  for (const b of marks.filter(m => compare(m.at, bar.from) > 0 && compare(m.at, bar.to) <= 0))
    cells[beside(bar, b.at, width)] = b.waits && waiting.includes(b) ? WAITS : COMMA
  const pulse = heard ? beats[heard.beat - 1] : undefined
  const mark = pulse ? column(pulse.at) : null
  return {
    row: cells.join(''),
    mark,
    label: labelled(labelOf(s, number, bar), take?.legs?.held ? 'held' : ahead(s, marks, bar)),
  }
}

/** Columns before the strip and after it, where its label stands. */
export const STRIP_LEFT = 5
export const STRIP_WIDTH = 46

/** The whole row of the strip with the mark between the beats, as it travels when there is no sound to follow. */
export const eyeRow = (s: Session, frame: number | null, cols: number): string => {
  const { row, label, mark } = strip(s, frame, STRIP_WIDTH)
  const at = mark === null ? null : travel(s, frame ?? 0, mark)
  const drawn = at === null ? row : row.slice(0, at) + MARK + row.slice(at + 1)
  return `${' '.repeat(STRIP_LEFT + Math.max(0, Math.floor((cols - 80) / 2)))}${drawn}    ${label}`
}

/** From the beat's column toward the next one, as far as the time between the two beats has passed. */
const travel = (s: Session, frame: number, from: number): number => {
  const take = sounding(s)
  const beats = take ? beatsOf(take.program) : []
  const i = beats.findLastIndex(o => o.frame <= frame)
  const [here, next] = [beats[i], beats[i + 1]]
  if (!here) return from
  const ends = next?.frame ?? take?.program.end ?? here.frame
  const part = Math.min(1, (frame - here.frame) / Math.max(1, ends - here.frame))
  const to =
    next && next.measure === here.measure
      ? (strip(s, next.frame, STRIP_WIDTH).mark ?? from)
      : (heldAt(s, here.measure) ?? STRIP_WIDTH - 1)
  return Math.min(STRIP_WIDTH - 2, Math.round(from + (to - from) * part))
}

/** The column of the mark at which this leg is held, if it stands in that measure. */
const heldAt = ({ current, setup: { form } }: Session, measure: number): number | null => {
  const wait = current?.legs && waitsAtEnd(current) ? waitsIn(form)[current.legs.at] : undefined
  const bar = measures(form).find(m => m.number === measure)
  return wait && bar && compare(wait.at, bar.to) <= 0 ? beside(bar, wait.at, STRIP_WIDTH) : null
}

const WORDS: Readonly<Record<BreathKind, string>> = {
  breath: 'breath',
  'slow-breath': 'breath',
  caesura: 'caesura',
  fermata: 'fermata',
  bow: 'bow',
  turn: 'page',
  mute: 'mute',
  instrument: 'change',
  look: 'look up',
}

/** The next mark in this measure or the one after it, said before it comes: "breath 43.4". */
const ahead = (s: Session, marks: readonly Breath[], bar: Measure): string => {
  const { form, numbers } = s.setup
  const until = add(bar.to, measureLength(bar.meter))
  const next = marks.find(m => compare(m.at, bar.from) > 0 && compare(m.at, until) <= 0)
  // It is near: which time of its measure is clear.
  const place = next && placeAt(next.at, { form, numbers }).replace(/\(\d+\)/, '')
  return next ? `${(next.word ?? WORDS[next.kind]).slice(0, 12)} ${place}` : ''
}

/** "rest 3 of 8": the measure of a rest that is counted now, before the entry or inside the passage; else empty. */
export const restOf = (s: Session, measure: number): string => {
  const { click, longRests = [] } = s.setup
  const before = measure + (click.rests ?? 0) + 1
  return measure < 0 && before > 0 ? `rest ${before} of ${click.rests}` : restWords(longRests, measure)
}

/** The rest that is counted at a frame of the present take. */
export const restNow = (s: Session, frame: number | null): string => {
  const heard = s.current && !s.current.over ? beatNow(s.current, frame) : null
  return heard ? restOf(s, heard.measure) : ''
}

/** Where it is and what comes; beside something that comes "43, 2nd time" is written as places are, "43(2)". */
const labelled = (here: string, next: string): string =>
  next === '' ? here : `${here.replace(/, (\d+)\w\w time$/, '($1)')}   ${next}`

const labelOf = (s: Session, number: number, bar: Measure): string => {
  const rest = restOf(s, number)
  if (number < 0) return rest || 'count-in'
  if (rest) return `m. ${numberOf(s.setup, number)}   ${rest}`
  if (number === 0) return compare(sub(bar.to, bar.from), zero) > 0 ? 'pick-up' : 'count-in'
  return `m. ${numberOf(s.setup, number)}`
}
