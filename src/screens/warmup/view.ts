import { beatsOf } from '../../click/program.ts'
import { measures } from '../../music/form.ts'
import type { Meter } from '../../music/meter.ts'
import { spoken } from '../../music/tempo.ts'
import type { Row, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { current, tempoOf, type WarmUpState } from '../../warm-up/turns.ts'
import { type Motion, moves } from '../beat.ts'
import { BOLD, INDENT, indented, MARGIN, row, type Sentence, SOFT, sideBySide, tooSmall } from '../page.ts'
import { type Layout, layoutsOf } from '../sizes.ts'
import {
  beatHeard,
  beatSign,
  FULL,
  figuresAndSign,
  type Heard,
  measureHeard,
  measureRows,
  spread,
  tempoFigures,
  widest,
} from '../spread.ts'
import { inPhrases, inRows } from '../text-rows.ts'
import { briefly, joined, unitWords } from '../words.ts'
import { NAMING, SIGNS, turnWords } from './words.ts'

/** All that the screen of a warm-up shows. */
export type Shown = {
  readonly title: string
  readonly state: WarmUpState
  /** What is heard now; null = nothing. */
  readonly heard: Heard | null
  /** What is said of the minutes that the plan has for it; empty without a plan. */
  readonly planned: string
  /** A sentence, or empty. */
  readonly trouble: string
  /** What the pedals do now, and the keys. */
  readonly pedals: string
  readonly keys: readonly string[]
  /** What is typed of a name for a preset; null = nothing is asked; absent where none is saved. */
  readonly naming?: string | null
  readonly motion: Motion
  readonly size: Size
}

const LABEL = 20

const moving = ({ heard, motion }: Shown) =>
  moves(motion, heard ? beatsOf(heard.program) : [], heard?.program.rate ?? 1)

const meterAt = ({ state, heard }: Shown): Meter => {
  const { form, meter } = current(state)
  const at = beatHeard(heard)?.measure
  const bars = form ? measures(form) : []
  return (bars.find(m => m.number === at) ?? bars[0])?.meter ?? meter
}

/** The rows of the measure that is heard; in silence of one at rest. */
export const field = (p: Shown, l: Layout): readonly string[] => {
  const { heard, size } = p
  const { unit } = tempoOf(p.state)
  const { mark } = moving(p)
  const words = [measureHeard(heard)]
  return measureRows({ heard, meter: meterAt(p), unit, mark, size, rows: l.beat, label: LABEL, words })
}

const signOf = (p: Shown): string => {
  const { phase } = p.state
  if (phase === 'ready') return SIGNS.ready
  if (phase === 'hold') return SIGNS.waits
  return p.heard && beatHeard(p.heard) ? beatSign(p.heard, moving(p).number) : SIGNS.rest
}

const tempoRows = (p: Shown, l: Layout): readonly Row[] => {
  const { size, state } = p
  const tempo = tempoOf(state)
  const figures = tempoFigures(tempo, l.tempo, Math.floor((size.cols - INDENT) * 0.6))
  const rows = indented(figures, BOLD)
  if (size.cols < FULL) return rows
  const column = INDENT + widest(figures) + 3
  const foot = figures.map((_, i) => row(i === figures.length - 1 ? unitWords(tempo) : '', { bold: true }))
  return sideBySide(rows, foot, column)
}

/** What is played: its name, how, its notes, and the tone beside it. */
const head = (p: Shown): readonly Row[] => {
  const { state: s, size } = p
  const e = current(s)
  const width = size.cols - 2 * MARGIN
  const called = `${e.item}${e.heading === '' ? '' : `   ${e.heading}`}`
  const title = `${p.title}   exercise ${s.exercise + 1} of ${s.exercises.length}`
  return [
    ...indented(inPhrases(title, width), {}, MARGIN),
    ...indented(inPhrases(called, width), BOLD, MARGIN),
    ...(size.cols < FULL ? [] : indented(inRows(e.words, width), {}, MARGIN)),
    ...indented(
      e.notes.flatMap(n => inPhrases(n, width)),
      {},
      MARGIN,
    ),
    ...(e.tone
      ? indented(inPhrases(`${s.toneOn ? '' : '(off) '}${e.tone.words}`, width), { color: 'soft' }, MARGIN)
      : []),
  ]
}

/** Without the names of the keys, for a small window. */
const shortly = (pedals: string): string =>
  briefly(pedals).replace('next exercise', 'next').replace('this one again', 'again')

const sentences = (p: Shown): readonly Sentence[] => {
  const e = current(p.state)
  const small = p.size.cols < FULL
  const keys = p.keys.filter(
    k => (e.tone || !k.endsWith(' tone')) && (p.naming !== undefined || !k.includes('preset')),
  )
  const turn = [
    small ? unitWords(tempoOf(p.state)) : '',
    turnWords(p.state),
    p.planned,
    small ? measureHeard(p.heard) : '',
  ]
  return [
    { text: p.naming == null ? '' : NAMING(p.naming), weight: 1, style: BOLD },
    { text: p.trouble, weight: 1, style: BOLD },
    { text: joined(turn, '   '), weight: 3 },
    { text: small ? shortly(p.pedals) : p.pedals, weight: 2 },
    { text: keys.join('  '), weight: 4, style: SOFT },
  ]
}

/** Where the figures leave no room for what is to be played, the tempo is said in words beside the sign. */
const inWords = (p: Shown): readonly Row[] => [
  row(` ${joined([spoken(tempoOf(p.state)), signOf(p)], '   ')}`, { bold: true }),
]

/** What is played, the tempo large, the sign of the moment and the beat. */
export const warmUpSheet = (
  p: Shown,
): { readonly rows: Sheet; readonly beatAt: number | null; readonly layout: Layout | null } => {
  const { size } = p
  const all = layoutsOf(size)
  const smallest = all.at(-1)
  if (!smallest) return { rows: tooSmall(size), beatAt: null, layout: null }
  const above = head(p)
  const said = sentences(p)
  const least = said.reduce((n, s) => n + inPhrases(s.text, size.cols - 2 * MARGIN).length, 0)
  for (const layout of all) {
    const parts = figuresAndSign(tempoRows(p, layout), signOf(p), layout, size)
    const beat = field(p, layout)
    if (above.length + parts.large.length + parts.sign.length + beat.length + least <= size.rows)
      return { ...spread({ size, head: above, ...parts, beat, sentences: said, least }), layout }
  }
  const beat = field(p, smallest)
  return {
    ...spread({ size, head: above, large: inWords(p), sign: [], beat, sentences: said, least }),
    layout: smallest,
  }
}
