import { beatsOf } from '../../click/program.ts'
import { breathsAt, measures } from '../../music/form.ts'
import { compare, type Frac } from '../../music/fraction.ts'
import { letterAt, lettersBeside, measureName } from '../../music/place.ts'
import { spoken } from '../../music/tempo.ts'
import type { Row, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { type Motion, moves, placeAhead, signsIn } from '../beat.ts'
import { fitted } from '../glyphs.ts'
import { BOLD, INDENT, indented, MARGIN, row, type Sentence, SOFT, tooSmall } from '../page.ts'
import { type Layout, layoutOf } from '../sizes.ts'
import { beatSign, FULL, figuresAndSign, type Heard, measureRows, spread } from '../spread.ts'
import { inPhrases, shortened } from '../text-rows.ts'
import { briefly, joined } from '../words.ts'
import { markText } from './marks.ts'
import { offered, passOf, type State } from './reduce.ts'
import { OFFER, SIGNS, TASK } from './words.ts'

/** All that the screen of a reading shows. */
export type Shown = {
  readonly state: State
  /** Frame of the present passage that is heard; null = nothing sounds. */
  readonly frame: number | null
  readonly sound: string
  /** What the pedals do now, and the other keys. */
  readonly pedals: string
  readonly keys: readonly string[]
  readonly motion: Motion
  readonly size: Size
}

/** The measure that is heard: its index in the form, its name and the rehearsal mark it is known by; the first one before and in the count-in. */
export const heardMeasure = (
  s: State,
  frame: number | null,
): {
  readonly index: number
  readonly name: string
  readonly letter: string
  readonly counting: boolean
} => {
  const { program, music } = passOf(s)
  const at = frame === null ? undefined : beatsOf(program).findLast(b => b.frame <= frame)
  const counting = at !== undefined && (frame as number) < program.firstNote
  const found = at && !counting ? measures(music.form).findIndex(m => m.number === at.measure) : 0
  const index = Math.max(0, found)
  const name = measureName(music.numbers, index)
  return { index, name, letter: letterAt(lettersBeside(music), name), counting }
}

/** "measure 3 of 12" */
const placeText = (s: State, frame: number | null): string => {
  const { music } = passOf(s)
  const { index, counting } = heardMeasure(s, frame)
  const count = measures(music.form).length
  return counting ? 'count-in' : `measure ${index + 1} of ${count}`
}

/** The next mark of the player in this measure or the one after it, said before it comes: "breath 43.4". */
const ahead = (s: State, frame: number | null): string => {
  const { music, tempo } = passOf(s)
  const bars = measures(music.form)
  const { index } = heardMeasure(s, frame)
  const [bar, after] = [bars[index], bars[index + 1] ?? bars[index]]
  const next = breathsAt(music.form, tempo).find(
    b => bar && after && compare(b.at, bar.from) > 0 && compare(b.at, after.to) <= 0,
  )
  return next
    ? `${next.word ?? next.kind.replace('slow-', '')} ${placeAhead(next, music, lettersBeside(music))}`
    : ''
}

/** The spots that were marked, as many as fit `width` columns, the latest among them. */
export const markedText = (s: State, width: number): string => {
  const all = s.marks.map(m => markText(m, passOf(s).music))
  if (all.length === 0) return ''
  for (let from = 0; from < all.length; from++) {
    const text = `marked: ${from > 0 ? '... ' : ''}${all.slice(from).join('; ')}`
    if (text.length <= width || from === all.length - 1) return text
  }
  return ''
}

/** "reading at quarter = 80, passage 2 of 3" */
export const tempoText = (s: State): string => {
  const { passes, at } = s
  const pass = passes.length > 1 ? `, passage ${at + 1} of ${passes.length}` : ''
  return `reading at ${spoken(passOf(s).tempo)}${pass}`
}

const LABEL = 18
/** Rows that the sentences have at least. */
const SENTENCES = 5

const unitOf = (s: State, index: number): Frac => {
  const { music, tempo, counted } = passOf(s)
  const from = measures(music.form)[index]?.from
  const mark = from && music.form.marks.findLast(m => compare(m.at, from) <= 0)
  return counted ?? (mark && mark !== music.form.marks[0] ? mark.tempo.unit : tempo.unit)
}

const moving = ({ state, motion }: Shown) => {
  const { program } = passOf(state)
  return moves(motion, beatsOf(program), program.rate)
}

const heardOf = ({ state, frame }: Shown): Heard | null =>
  frame === null ? null : { program: passOf(state).program, frame }

/** The rows of the measure that is heard, before the first note of the first one. */
export const field = (p: Shown, l: Layout): readonly string[] => {
  const { state: s, frame, size } = p
  const { music, tempo } = passOf(s)
  const { index } = heardMeasure(s, frame)
  const bar = measures(music.form)[index]
  if (!bar) return Array<string>(l.beat).fill('')
  return measureRows({
    heard: heardOf(p),
    meter: bar.meter,
    unit: unitOf(s, index),
    mark: moving(p).mark,
    size,
    rows: l.beat,
    label: LABEL,
    words: [placeText(s, frame), ahead(s, frame)],
    signs: signsIn(bar, breathsAt(music.form, tempo)),
  })
}

/** The number of the measure in figures; what is no number in letters. */
const numberRows = (p: Shown, l: Layout): readonly Row[] => {
  const { name, letter, counting } = heardMeasure(p.state, p.frame)
  const digits = /^\d{1,5}/.exec(name)?.[0] ?? ''
  const named = digits === '' ? `measure ${name}` : name.slice(digits.length)
  const rest = joined([named, letter], '   ')
  const room = Math.floor((p.size.cols - INDENT) * 0.6)
  const made = digits === '' ? [] : (fitted(digits, l.tempo, room) ?? [digits])
  return Array.from({ length: l.tempo }, (_, i) => {
    const figures = made[i - l.tempo + made.length] ?? ''
    const words = i === l.tempo - 1 && rest !== '' ? `${figures === '' ? '' : '   '}${rest}` : ''
    return row(`${' '.repeat(INDENT)}${figures}${words}`, {
      bold: true,
      ...(counting ? { color: 'soft' } : {}),
    })
  })
}

const signOf = (p: Shown): string => {
  if (p.state.phase === 'ready') return SIGNS.ready
  const heard = heardOf(p)
  return heard ? beatSign(heard, moving(p).number) : ''
}

const asking = (s: State): boolean => s.phase === 'offer' || s.phase === 'storing'

/** What is asked, in the rows of what is large while it sounds. */
const questionRows = (s: State, rows: number, columns: number): readonly Row[] => {
  const all = offered(s)
  const room = Math.max(1, rows - 2)
  const shown = all.length > room ? all.slice(0, room - 1) : all
  const made = [
    ...indented([OFFER.title(all.length)], BOLD),
    ...indented([''], {}),
    ...indented(
      shown.map(x => `  ${x.name}`),
      { bold: true, color: 'mark' },
    ),
    ...(shown.length < all.length ? indented([OFFER.more(all.length - shown.length)], {}) : []),
  ]
  const from = indented(inPhrases(markedText(s, 3 * columns), columns - INDENT), SOFT)
  const whole = made.length + from.length <= rows ? [...made, ...from] : made
  return Array.from({ length: rows }, (_, i) => whole[i] ?? [])
}

const sentences = (p: Shown): readonly Sentence[] => {
  const { state: s, size } = p
  const task = s.phase === 'ready' && s.marks.length === 0
  const marked = asking(s) ? '' : task ? TASK : markedText(s, size.cols - 2 * MARGIN)
  const place = size.cols < FULL && !asking(s) ? [placeText(s, p.frame), ahead(s, p.frame)] : []
  return [
    { text: s.note, weight: 1, style: BOLD },
    { text: joined(place, '   '), weight: 3 },
    { text: marked, weight: 4 },
    { text: size.cols < FULL ? briefly(p.pedals) : p.pedals, weight: 2 },
    { text: p.sound, weight: 6, style: SOFT },
    { text: p.keys.join('  '), weight: 5, style: SOFT },
  ]
}

/** One slow reading: the measure large, its beats, what was marked; at the end the sections that come of it. */
export const readingSheet = (p: Shown): { readonly rows: Sheet; readonly beatAt: number | null } => {
  const { state: s, size } = p
  const l = layoutOf(size)
  if (!l) return { rows: tooSmall(size), beatAt: null }
  const width = size.cols - 2 * MARGIN
  const beat = field(p, l)
  const parts = figuresAndSign(numberRows(p, l), signOf(p), l, size)
  const question = asking(s)
    ? questionRows(s, parts.large.length + parts.sign.length + beat.length, size.cols - MARGIN)
    : null
  const drawn = spread({
    size,
    head: [
      row(` ${shortened(passOf(s).title, width)}`),
      ...indented(inPhrases(tempoText(s), width), SOFT, MARGIN),
    ],
    large: question ?? parts.large,
    sign: question ? [] : parts.sign,
    beat: question ? [] : beat,
    sentences: sentences(p),
    least: SENTENCES,
  })
  return question ? { ...drawn, beatAt: null } : drawn
}
