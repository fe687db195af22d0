import { type Beat, beatsOf, type Program } from '../../click/program.ts'
import type { Row, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { type Motion, moves } from '../beat.ts'
import { BOLD, INDENT, indented, MARGIN, row, SOFT, sideBySide, tooSmall } from '../page.ts'
import { type Layout, layoutOf } from '../sizes.ts'
import { beatSign, measureHeard, measureRows, signRows, spread, tempoFigures, widest } from '../spread.ts'
import { inRows } from '../text-rows.ts'
import { joined, type KeyNames, unitWords } from '../words.ts'
import type { HeardClick } from './feed.ts'
import { clickOf, clickText, markBeside, noteOf, pedalHint, type State } from './reduce.ts'

/** All that the screen of the click shows. */
export type Shown = {
  readonly state: State
  readonly heard: HeardClick | null
  /** Another click begins at the next bar line. */
  readonly turning: boolean
  readonly sound: string
  readonly pedals: 1 | 2
  /** Names of the pedal keys. */
  readonly keys: KeyNames
  /** What the other keys do. */
  readonly hints: readonly string[]
  readonly motion: Motion
  readonly size: Size
}

const LABEL = 14
/** Rows that the sentences have at least. */
const SENTENCES = 6

/** A click goes on as it is: the beats of a program as if it was played again and again, for what may move over them. */
const again = new WeakMap<Program, readonly Beat[]>()
const endlessly = (p: Program): readonly Beat[] => {
  const beats = beatsOf(p)
  const found =
    again.get(p) ??
    Array.from({ length: 8 }, (_, k) =>
      beats.map(b => ({ ...b, frame: b.frame + k * p.frames, measure: b.measure + 1000 * k })),
    ).flat()
  again.set(p, found)
  return found
}

const moving = ({ heard, motion }: Shown) =>
  moves(motion, heard ? endlessly(heard.program) : [], heard?.program.rate ?? 1)

/** In one word or number what is heard: the beats until it begins, the beat, or that it waits. */
const signOf = (p: Shown): string => {
  if (!p.heard) return p.state.going ? '' : 'READY'
  return beatSign(p.heard, moving(p).number)
}

/** The measure that is heard, or one at rest; whole rows, which are also drawn alone while the mark moves. */
const field = (p: Shown, l: Layout): readonly string[] => {
  const { heard, size } = p
  const { meter, tempo, pulse } = heard?.click ?? clickOf(p.state)
  const unit = pulse ?? tempo.unit
  const { mark } = moving(p)
  return measureRows({
    heard,
    meter,
    unit,
    mark,
    size,
    rows: l.beat,
    label: LABEL,
    words: [measureHeard(heard)],
  })
}

const beside = (s: State): string => {
  const [below, above] = [markBeside(s.tempo, -1), markBeside(s.tempo, 1)]
  return joined([below === null ? '' : `[ ${below}`, above === null ? '' : `] ${above}`], '   ')
}

const sentences = (p: Shown) => [
  {
    text: noteOf(p.state) || (p.turning ? 'from the next bar line' : ''),
    weight: 1,
    style: BOLD,
  },
  { text: pedalHint(p.state.going, p.pedals, p.keys), weight: 2 },
  { text: beside(p.state), weight: 4, style: SOFT },
  { text: p.sound, weight: 5, style: SOFT },
  { text: p.hints.join('  '), weight: 3, style: SOFT },
]

const compose = (p: Shown, l: Layout): { readonly rows: readonly Row[]; readonly beatAt: number } => {
  const { state: s, size } = p
  const figures = tempoFigures(s.tempo, l.tempo, Math.floor((size.cols - INDENT) * 0.7))
  const column = INDENT + widest(figures) + 3
  const says = [unitWords(s.tempo), ...inRows(clickText(s), Math.max(8, size.cols - column - MARGIN))]
  // At the foot of the figures.
  const above = Array.from({ length: Math.max(0, figures.length - says.length) }, (): Row => [])
  const tempo = sideBySide(indented(figures, BOLD), [...above, ...says.map(t => row(t))], column)
  return spread({
    size,
    head: size.rows < 14 ? [] : [row(' The click')],
    large: tempo,
    sign: signRows(signOf(p), l.sign, size.cols - INDENT - MARGIN),
    beat: field(p, l),
    sentences: sentences(p),
    least: SENTENCES,
  })
}

/** Row where the beat begins (0 = top); null where the window is too small to draw over it. */
export const stripRow = (p: Shown): number | null => {
  const l = layoutOf(p.size)
  return l ? compose(p, l).beatAt : null
}

/** The rows of the beat alone, for drawing between two whole drawings. */
export const eyeRow = (p: Shown): string => {
  const l = layoutOf(p.size)
  return l ? field(p, l).join('\n') : ''
}

/** Just the click: its tempo large, the beats of its measure, and what the keys do. */
export const clickSheet = (p: Shown): Sheet => {
  const l = layoutOf(p.size)
  return l ? compose(p, l).rows : tooSmall(p.size)
}
