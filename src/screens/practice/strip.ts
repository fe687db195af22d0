import { beatsOf } from '../../click/beats.ts'
import { type Breath, type BreathKind, breathsAt, type Measure, measures, waitsIn } from '../../music/form.ts'
import { add, compare, toNumber } from '../../music/fraction.ts'
import { restWords } from '../../music/long-rests.ts'
import { measureLength, pulses } from '../../music/meter.ts'
import { placeAt } from '../../music/place.ts'
import { beatNow, waitsAtEnd } from '../../visit/legs.ts'
import { clickOf, numberOf } from '../../visit/make-take.ts'
import { type Session, sounding } from '../../visit/session.ts'
import { type BeatStrip, beatStrip, signColumn, signsIn, stripText } from '../beat-strip.ts'

/** The strip of the measure that sounds, and what is said beside it. */
type Strip = BeatStrip & { readonly label: string }

/** The form's measure of that number; a count-in measure looks like the first. */
const shape = (bars: readonly Measure[], number: number): Measure | undefined =>
  bars.find(m => m.number === number) ?? bars.find(m => m.number >= 1) ?? bars[0]

/** The beat strip, `width` columns wide. `frame` = null shows the first measure at rest. */
export const strip = (s: Session, frame: number | null, width: number): Strip => {
  const bars = measures(s.setup.form)
  const take = sounding(s)
  const heard = take && !take.over ? beatNow(take, frame) : null
  // What lies inside one measure has no whole one.
  const number = heard?.measure ?? bars.find(m => m.number >= 1)?.number ?? 0
  const bar = shape(bars, number)
  if (!bar) return { row: '', mark: null, label: '' }
  const counting = take !== null && frame !== null && frame < take.program.firstNote
  const tempo = take?.tempo ?? s.ladder.rungs[s.ladder.at]
  const unit = (tempo && clickOf(s.setup, tempo).pulse) ?? tempo?.unit ?? bar.meter.unit
  const pulse = heard ? pulses(bar.meter, unit)[heard.beat - 1] : undefined
  const marks = tempo ? breathsAt(s.setup.form, tempo) : []
  return {
    ...beatStrip({
      meter: bar.meter,
      unit,
      width,
      at: pulse ? toNumber(pulse.at) : null,
      signs: signsIn(bar, marks, waitsIn(s.setup.form)),
    }),
    label: labelled(labelOf(s, number, counting), take?.legs?.held ? 'held' : ahead(s, marks, bar)),
  }
}

/** Columns before the strip and after it, where its label stands. */
export const STRIP_LEFT = 5
export const STRIP_WIDTH = 46

/** The whole row of the strip with the mark between the beats, as it travels when there is no sound to follow. */
export const eyeRow = (s: Session, frame: number | null, cols: number): string => {
  const { row, label, mark } = strip(s, frame, STRIP_WIDTH)
  const at = mark === null ? null : travel(s, frame ?? 0, mark)
  const drawn = stripText({ row, mark: at })
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
  const [sign] = wait && bar ? signsIn(bar, [wait]) : []
  return sign && bar ? signColumn(bar.meter, STRIP_WIDTH, sign) : null
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
const restOf = (s: Session, measure: number): string => {
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

const labelOf = (s: Session, number: number, counting: boolean): string => {
  const rest = restOf(s, number)
  if (number < 0) return rest || 'count-in'
  if (rest) return `m. ${numberOf(s.setup, number)}   ${rest}`
  // A section that begins inside a measure is there; the pick-up of a piece has no number on the part.
  const nameless = number === 0 && (s.setup.numbers[0] ?? '0') === '0'
  const here = nameless ? 'pick-up' : `m. ${numberOf(s.setup, number)}`
  // The beats that are missing before a pick-up stand in the same measure with it.
  return number === 0 && counting ? `then ${here}` : here
}
