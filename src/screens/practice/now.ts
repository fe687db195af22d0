import { type Beat, beatsOf } from '../../click/program.ts'
import { type Breath, type BreathKind, breathsAt, type Measure, measures, waitsIn } from '../../music/form.ts'
import { add, compare, type Frac, toNumber } from '../../music/fraction.ts'
import { restWords } from '../../music/groups.ts'
import { measureLength, pulses } from '../../music/meter.ts'
import { beatNow, waitsAtEnd } from '../../visit/legs.ts'
import { counting } from '../../visit/moment.ts'
import { type Remark, type Session, type Sounding, sounding } from '../../visit/session.ts'
import { clickOf, numberOf } from '../../visit/sounding.ts'
import { beatRow, type Motion, placeAhead, placeLasts, signsIn } from '../beat.ts'

/** The measure that sounds: its row, where the mark stands in it (0 to 1), and what is said beside it. */
export type Strip = {
  readonly row: string
  readonly at: number | null
  /** In pieces: where it is, a rest that is counted, what comes. */
  readonly labels: readonly string[]
}

/** The form's measure of that number; a count-in measure looks like the first. */
const shape = (bars: readonly Measure[], number: number): Measure | undefined =>
  bars.find(m => m.number === number) ?? bars.find(m => m.number >= 1) ?? bars[0]

/** What of a strip stays the same from one beat to the next. */
type Drawn = { readonly strip: Strip; readonly bar: Measure | null; readonly span: BeatSpan | null }
const drawn = new WeakMap<Session, Map<string, Drawn>>()

/** The beat strip, `width` columns wide. `frame` = null shows the first measure at rest. */
export const strip = (s: Session, frame: number | null, width: number, motion: Motion = 'step'): Strip => {
  const take = sounding(s)
  const heard = take && !take.over ? beatNow(take, frame) : null
  const counting = take !== null && frame !== null && frame < take.program.firstNote
  const key = `${heard?.measure} ${heard?.beat} ${counting} ${width} ${motion}`
  const all = drawn.get(s) ?? new Map<string, Drawn>()
  drawn.set(s, all)
  const found = all.get(key) ?? drawAt(s, heard, counting, width, motion)
  all.set(key, found)
  const { bar, span } = found
  if (motion !== 'glide' || !take || !heard || !bar || !span || frame === null) return found.strip
  const at = glided(s, take, frame, heard, bar, span)
  return { ...found.strip, at: at / toNumber(measureLength(bar.meter)) }
}

const NOTHING: Strip = { row: '', at: null, labels: [] }

const drawAt = (s: Session, heard: Beat | null, counting: boolean, width: number, motion: Motion): Drawn => {
  const bars = measures(s.setup.form)
  const take = sounding(s)
  // What lies inside one measure has no whole one.
  const number = heard?.measure ?? bars.find(m => m.number >= 1)?.number ?? 0
  const bar = shape(bars, number)
  if (!bar) return { strip: NOTHING, bar: null, span: null }
  const tempo = take?.tempo ?? s.ladder.rungs[s.ladder.at]
  const unit = (tempo && clickOf(s.setup, tempo).pulse) ?? tempo?.unit ?? bar.meter.unit
  const marks = tempo ? breathsAt(s.setup.form, tempo) : []
  const span = heard && motion !== 'still' ? placeIn(heard, bar, unit) : null
  const labels = [...labelOf(s, number, counting), take?.legs?.held ? 'held' : ahead(s, marks, bar)].filter(
    Boolean,
  )
  const signs = signsIn(bar, marks, waitsIn(s.setup.form))
  const row = beatRow(bar.meter, unit, width, signs)
  const at = span ? span.at / toNumber(measureLength(bar.meter)) : null
  return { strip: { row, at, labels }, bar, span }
}

type BeatSpan = { readonly at: number; readonly next: number }

/** A beat and the one after it in its measure (else the end of it), in whole notes from the bar line. */
const placeIn = (heard: Beat, bar: Measure, unit: Frac): BeatSpan | null => {
  const all = pulses(bar.meter, unit)
  const pulse = all[heard.beat - 1]
  if (!pulse) return null
  const next = all[heard.beat]
  return { at: toNumber(pulse.at), next: toNumber(next ? next.at : measureLength(bar.meter)) }
}

/** From the beat toward the next one, as far as the time between the two has passed; where it waits, toward that mark. */
const glided = (
  s: Session,
  take: Sounding,
  frame: number,
  heard: Beat,
  bar: Measure,
  { at, next }: BeatSpan,
): number => {
  const waits = heldIn(s, bar)
  const beats = beatsOf(take.program)
  const i = beats.findLastIndex(b => b.frame <= frame)
  const after = beats[i + 1]
  const to = waits !== null && after?.measure !== heard.measure ? waits : next
  if (take.legs?.held) return to
  if (i < 0) return at
  const ends = after?.frame ?? take.program.end
  const part = (frame - heard.frame) / Math.max(1, ends - heard.frame)
  return at + (to - at) * Math.max(0, Math.min(1, part))
}

/** Where in that measure this leg is held, in whole notes from the bar line, if it is. */
const heldIn = ({ current, setup: { form } }: Session, bar: Measure): number | null => {
  const wait = current?.legs && waitsAtEnd(current) ? waitsIn(form)[current.legs.at] : undefined
  const [sign] = wait ? signsIn(bar, [wait]) : []
  return sign ? sign.at : null
}

/** Milliseconds until the mark stands elsewhere; null = nothing moves now. */
export const movesIn = (s: Session, frame: number | null, rate: number): number | null => {
  const take = sounding(s)
  if (!take || take.over || take.legs?.held || frame === null) return null
  return placeLasts(beatsOf(take.program), frame, take.program.end, rate)
}

const MARK_WORDS: Readonly<Record<BreathKind, string>> = {
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
  const { form, numbers, beside } = s.setup
  const until = add(bar.to, measureLength(bar.meter))
  const next = marks.find(m => compare(m.at, bar.from) > 0 && compare(m.at, until) <= 0)
  // It is near: which time of its measure is clear.
  const place = next && placeAhead(next, { form, numbers }, beside)
  return next ? `${(next.word ?? MARK_WORDS[next.kind]).slice(0, 12)} ${place}` : ''
}

/** "rest 3 of 8": the measure of a rest that is counted now, before the entrance or inside the passage; else empty. */
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

const labelOf = (s: Session, number: number, counting: boolean): readonly string[] => {
  const rest = restOf(s, number)
  if (number < 0) return [rest || 'count-in']
  if (rest) return [`m. ${numberOf(s.setup, number)}`, rest]
  // A section that begins inside a measure is there; the pick-up of a piece has no number on the part.
  const nameless = number === 0 && (s.setup.numbers[0] ?? '0') === '0'
  const here = nameless ? 'pick-up' : `m. ${numberOf(s.setup, number)}`
  // The beats that are missing before a pick-up stand in the same measure with it.
  return [number === 0 && counting ? `then ${here}` : here]
}

const SIGN_WORDS = {
  ready: 'READY',
  asks: '?',
  next: 'NEXT?',
  held: 'HELD',
  clean: 'CLEAN',
  // Told apart from CLEAN at a glance, which NOT CLEAN would not be.
  slip: 'SLIP',
  up: 'UP',
  down: 'DOWN',
  goal: 'GOAL',
  none: '',
} as const

/** What the screen is about at this moment, in one word or number that is read from two meters. */
export type Sign = {
  readonly kind: keyof typeof SIGN_WORDS | 'countIn' | 'rest' | 'beat'
  readonly text: string
}

const sign = (kind: keyof typeof SIGN_WORDS): Sign => ({ kind, text: SIGN_WORDS[kind] })

/** What was understood of the latest verdict. */
const UNDERSTOOD: Partial<Readonly<Record<Remark['kind'], keyof typeof SIGN_WORDS>>> = {
  clean: 'clean',
  stays: 'clean',
  slip: 'slip',
  cut: 'slip',
  place: 'slip',
  up: 'up',
  down: 'down',
  suggest: 'down',
  goal: 'goal',
  waiting: 'asks',
  unanswered: 'asks',
}

/** `frame` of the take that sounds; `numbers` = the beats are slow enough to be shown by a number that changes. */
export const signOf = (s: Session, frame: number | null, numbers: boolean): Sign => {
  const take = sounding(s)
  const understood = UNDERSTOOD[s.note.kind]
  if (s.asks) return sign(s.asks === 'goal' ? (understood ?? 'next') : 'next')
  if (s.phase === 'done') return sign('none')
  if (s.phase !== 'going' && !s.hearing) return sign(understood ?? 'ready')
  if (!take || take.over) return sign(understood ?? 'asks')
  if (take.legs?.held) return sign('held')
  const at = frame ?? -1
  if (at >= take.program.firstNote) {
    if (take.verdict) return sign(understood ?? (take.verdict.clean ? 'clean' : 'slip'))
    const beat = numbers ? beatNow(take, frame) : null
    return beat ? { kind: 'beat', text: String(beat.beat) } : sign('none')
  }
  const countIn = counting(take, frame)
  if (!countIn && understood) return sign(understood)
  const rest = /^rest (\d+)/.exec(restNow(s, frame))?.[1]
  if (rest !== undefined) return { kind: 'rest', text: `REST ${rest}` }
  const left = beatsOf(take.program).filter(
    b => b.frame < take.program.firstNote && (!countIn || b.frame > at),
  )
  const to = left.length + (countIn ? 1 : 0)
  return numbers && to > 0 ? { kind: 'countIn', text: `IN ${to}` } : sign('none')
}
