import { beatsOf } from '../../click/program.ts'
import { goalNumbers, type Tempo } from '../../music/tempo.ts'
import type { Row, RowPart, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { tally } from '../../visit/answer.ts'
import { fastWords } from '../../visit/fast.ts'
import { momentOf } from '../../visit/moment.ts'
import { type Remark, rungOf, type Session, sounding } from '../../visit/session.ts'
import { askedHint, slotText, withSlot } from '../../visit/slot.ts'
import { type Motion, moves } from '../beat.ts'
import { BOLD, INDENT, indented, MARGIN, row, type Sentence, SOFT, sideBySide, tooSmall } from '../page.ts'
import { type Layout, layoutOf } from '../sizes.ts'
import { FULL, fieldRows, fieldWidth, signRows, spread, tempoFigures, widest } from '../spread.ts'
import { inPhrases, inRows, shortened, TOGETHER } from '../text-rows.ts'
import { briefly, joined, type KeyNames, unitWords } from '../words.ts'
import { ladderLines } from './ladder-lines.ts'
import { type Sign, signOf, strip } from './now.ts'
import * as say from './words.ts'

/** All that the practice screen shows beside the session itself. */
export type Shown = {
  readonly session: Session
  /** Frame of the current take that is heard; null = nothing sounds. */
  readonly frame: number | null
  readonly seconds: number
  /** Whole minutes left in the slot; null = there is none. */
  readonly minutesLeft?: number | null
  /** "Weir Street Overture   m. 41-44", and the days to the date, if there is one. */
  readonly title: string
  readonly date: string
  /** The player's own words on the music. */
  readonly music: string
  /** What a cold take would be, while it can still be one; else empty. */
  readonly cold: string
  /** The keys that say after a slip what went wrong; null = nothing is kept. */
  readonly wrongs: readonly string[] | null
  /** What the keys do, and what one pedal can choose now; empty where a press has one meaning. */
  readonly hints: readonly string[]
  readonly choice: string
  /** All keys but the pedals are locked. */
  readonly locked?: boolean
  /** What is offered beside the ladder, and its key; else empty. */
  readonly beside: string
  readonly keys: KeyNames
  /** Today's verdicts before this visit. */
  readonly earlier: { readonly clean: number; readonly verdicts: number }
  /** Something about the sound that the player should know, else empty. */
  readonly sound: string
  /** Digits typed so far for a tempo by hand. */
  readonly typing: string
  /** How the mark of the beat may move. */
  readonly motion: Motion
  readonly size: Size
}

const LADDER = 27
const LABEL = 20
/** What stands beside the figures, at least. */
const UNIT = 12

const heard = (s: Session): Tempo => s.hearing?.tempo ?? rungOf(s.ladder)

/** What may move of the beat over the take that sounds. */
const moving = (s: Session, wanted: Motion) => {
  const take = sounding(s)
  return moves(wanted, take ? beatsOf(take.program) : [], s.setup.rate)
}

/** The clean ones so far: full, heard but not yet stored, and still to come. */
const markRows = (s: Session, rows: number, columns: number): readonly Row[] => {
  const { ladder, setup } = s
  const most = say.needed(ladder, setup.opening.rules).n
  // Nothing is counted where nothing is needed.
  const n = most === 0 ? 0 : Math.max(most, ladder.row)
  const wide = Math.max(1, Math.min(2 * rows - 2, Math.floor(columns / Math.max(1, n)) - 1))
  const hollow = s.note.kind === 'heard' ? 1 : 0
  return Array.from({ length: rows }, (_, i) => {
    const last = i === rows - 1
    return Array.from({ length: n }, (_, k): RowPart => {
      if (k < ladder.row) return { text: `${'█'.repeat(wide)} `, color: 'good' }
      if (k < ladder.row + hollow)
        return { text: `${wide < 2 ? '▌' : `▌${(last ? '▁' : ' ').repeat(wide - 2)}▐`} ` }
      return { text: `${(last ? '▁' : ' ').repeat(wide)} ` }
    })
  })
}

/** What was understood, as a sign or in words. */
const COLORS: Partial<Readonly<Record<Sign['kind'] | Remark['kind'], RowPart['color']>>> = {
  clean: 'good',
  up: 'good',
  goal: 'good',
  slip: 'bad',
  down: 'bad',
  cut: 'bad',
  trouble: 'bad',
}
const colored = (kind: keyof typeof COLORS): Pick<RowPart, 'color'> => {
  const color = COLORS[kind]
  return color ? { color } : {}
}

/** What the rows of the beat are drawn from. */
type Beating = Pick<Shown, 'session' | 'frame' | 'motion' | 'size'>

const field = (p: Beating, l: Layout): readonly string[] => {
  const motion = moving(p.session, p.motion).mark
  const drawn = strip(p.session, p.frame, fieldWidth(p.size, LABEL), motion)
  return fieldRows(drawn.row, drawn.at, l.beat, l.beat < 3 ? [] : drawn.labels)
}

const time = (seconds: number): string =>
  seconds < 60 ? `${Math.floor(seconds)}${TOGETHER}s` : `${Math.floor(seconds / 60)}${TOGETHER}min`

const counted = (p: Shown): string => {
  const { clean, verdicts, here } = tally(p.session)
  const all = p.earlier.verdicts + verdicts
  const judged =
    all === 0
      ? p.session.setup.ends
        ? 'no verdict yet'
        : 'no verdict yet today'
      : `${p.earlier.clean + clean} of ${all} clean today${p.session.setup.ends ? '' : `, ${here} on this rung`}`
  return joined([judged, time(p.seconds), fastWords(p.session), slotText(p.session, p.minutesLeft ?? 0)])
}

/** What was understood; before the first press what could come first. */
const said = (p: Shown): string =>
  p.session.phase === 'ready' && p.session.note.kind === 'start'
    ? p.cold
    : withSlot(p.session, say.noteWithHint(p.session.note, p.locked ? null : p.wrongs))

/** What the pedals do now. */
const hint = ({ session: s, frame, keys, choice }: Shown): string =>
  choice !== ''
    ? choice
    : s.asks
      ? askedHint(s, keys)
      : say.pedalHint(momentOf(s, frame), s.setup.pedals, keys)

const sentences = (p: Shown, small: boolean): readonly Sentence[] => {
  const keys = p.locked
    ? say.LOCKED
    : small
      ? p.hints.filter(h => /back|wait|finish|leave|help|Alt/.test(h)).join('  ')
      : p.hints.join('  ')
  const typing = small
    ? `tempo ${p.typing}_`
    : `tempo by hand: ${p.typing}_   Enter takes it, Escape leaves it`
  return [
    {
      text: p.typing === '' ? said(p) : typing,
      weight: 2,
      style: p.typing === '' ? { bold: true, ...colored(p.session.note.kind) } : BOLD,
    },
    // In a small window without the names of the keys.
    { text: small ? briefly(hint(p)) : hint(p), weight: 1 },
    { text: p.beside, weight: 3 },
    { text: p.sound, weight: 6, style: SOFT },
    { text: counted(p), weight: 5 },
    { text: keys, weight: 4, style: SOFT },
  ]
}

/** What counts, where that is another note value than the tempo's both. */
const unitOf = (s: Session, t: Tempo): string => {
  const both = say.tempoLine(s, t)
  return both.includes(',') ? both : unitWords(t)
}

/** Rows that the sentences have at least. */
const SENTENCES = 5

/** Below 80x24: the tempo with what belongs to it in words beside it, then the sign and the beat. */
const smallBlocks = (p: Shown, l: Layout): readonly (readonly Row[])[] => {
  const { session: s, size } = p
  const tempo = heard(s)
  const figures = tempoFigures(tempo, l.tempo, Math.min(size.cols - 16, Math.floor(size.cols * 0.6)))
  const column = INDENT + widest(figures) + 2
  const room = Math.max(8, size.cols - column - MARGIN)
  const goal = `goal ${s.setup.open ? 'open' : goalNumbers(s.setup.goal, s.setup.top)}`
  const inARow = say.rowWords(s)
  const words = [
    ...inPhrases(`${unitOf(s, tempo)}   ${goal}`, room),
    ...inRows(say.clickedLine(s, tempo), room),
    ...inRows(inARow.length > room ? say.rowBrief(s) : inARow, room),
    // That it is counted in says the sign.
    ...inPhrases(
      strip(s, p.frame, fieldWidth(size, LABEL))
        .labels.filter(l => l !== 'count-in')
        .join('   '),
      room,
    ),
  ]
  // What comes is not always said, beside a mark in two rows: the rest stays where it is.
  const least = (s.setup.form.breaths ?? []).length > 0 ? 4 : 3
  const beside = Array.from({ length: Math.max(least, words.length) }, (_, i) => row(words[i] ?? ''))
  return [sideBySide(indented(figures, BOLD), beside, column)]
}

const fullBlocks = (p: Shown, l: Layout): readonly (readonly Row[])[] => {
  const { session: s, size } = p
  const tempo = heard(s)
  const room = size.cols - LADDER - INDENT - MARGIN
  const figures = tempoFigures(tempo, l.tempo, room - UNIT)
  const wide = widest(figures)
  const unit = [unitOf(s, tempo), say.clickedLine(s, tempo)].flatMap(text => inRows(text, room - wide - 3))
  // At the foot of the figures.
  const left = Array.from({ length: l.tempo }, (_, i): Row => {
    const text = figures[i - l.tempo + figures.length] ?? ''
    const word = unit[i - l.tempo + unit.length]
    const both = word === undefined ? text : `${text}${' '.repeat(wide - [...text].length + 3)}${word}`
    return row(`${' '.repeat(INDENT)}${both}`, { bold: true })
  })
  const words = say.rowWords(s)
  const marks = markRows(s, l.marks, room - words.length - 3).map(
    (parts, i, all): Row => [
      { text: ' '.repeat(INDENT) },
      ...parts,
      ...(i === all.length - 1 ? [{ text: `${parts.length > 0 ? '  ' : ''}${words}` }] : []),
    ],
  )
  const rungs = ladderLines(s, l.tempo + l.marks).map(r =>
    row(r.text, { ...(r.here ? { color: 'mark', bold: true } : r.passed ? { color: 'good' } : {}) }),
  )
  return [sideBySide([...left, ...marks], rungs, size.cols - LADDER - MARGIN)]
}

/** Where the beat was drawn last, of a session in a window of that size. */
const placed = new WeakMap<Session, { readonly size: string; readonly beatAt: number }>()
const sizeText = ({ cols, rows }: Size): string => `${cols}x${rows}`

/**
 * Title and date as one row. Where both do not fit, first the day of the date goes ("in 4 days" stays), then the date,
 * then the middle of the piece's name: the place, and what is played of it, are read last of all.
 */
export const heading = (title: string, date: string, width: number): string => {
  const dates = [...new Set([date, date.split(', ').at(-1) ?? ''])].filter(d => d !== '')
  const fitting = dates.find(d => title.length + 2 + d.length <= width)
  if (fitting !== undefined) return title + fitting.padStart(width - title.length)
  if (title.length <= width) return title
  const [piece = '', ...others] = title.split(/ {3}/)
  const rest = ['', ...others].join('   ')
  const room = width - rest.length - 1
  return room > 2 ? `${shortened(piece, room + 1)}${rest}` : `…${title.slice(title.length - width + 1)}`
}

const compose = (p: Shown, l: Layout): Sheet => {
  const { session: s, size } = p
  const small = size.cols < FULL || l.marks === 0
  const width = size.cols - 2 * MARGIN
  const blocks = small ? smallBlocks(p, l) : fullBlocks(p, l)
  const now = signOf(s, p.frame, moving(s, p.motion).number)
  const top = size.rows < 14 ? [] : [row(` ${heading(p.title, small ? '' : p.date, width)}`)]
  const music = small ? [] : indented(inPhrases(p.music, width).slice(0, 2), SOFT, MARGIN)
  const { rows, beatAt } = spread({
    size,
    head: [...top, ...music],
    large: blocks.flat(),
    sign: signRows(now.text, l.sign, size.cols - INDENT - MARGIN, colored(now.kind)),
    beat: field(p, l),
    sentences: sentences(p, small),
    least: SENTENCES,
  })
  placed.set(s, { size: sizeText(size), beatAt })
  return rows
}

/** The practice screen. Readable from two meters: tempo, row, beat, and the state. From half a meter: the rest. */
export const practiceSheet = (p: Shown): Sheet => {
  const layout = layoutOf(p.size)
  return layout ? compose(p, layout) : tooSmall(p.size)
}

/** The rows of the beat alone, for drawing between two whole drawings; null where none was drawn yet. */
export const beatAlone = (p: Beating): { readonly row: number; readonly text: string } | null => {
  const l = layoutOf(p.size)
  const at = placed.get(p.session)
  if (!l || at?.size !== sizeText(p.size)) return null
  return { row: at.beatAt, text: field(p, l).join('\n') }
}
