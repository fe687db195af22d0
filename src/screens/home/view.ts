import { daysAway } from '../../music/day-words.ts'
import { type Controls, keyHints, keyOf } from '../../terminal/key-table.ts'
import type { Row, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { type Walk, walkHint } from '../choosing.ts'
import type { Form } from '../form/form.ts'
import { titledForm } from '../form/view.ts'
import { JOIN_KEY } from '../key-rows.ts'
import {
  BAR,
  BOLD,
  bar,
  CHOSEN,
  cell,
  composed,
  type Halves,
  happened,
  indented,
  row,
  SOFT,
} from '../page.ts'
import { kindOf, widthOf, windowIn, windowOf } from '../sizes.ts'
import { inPhrases, inRows, leader, shortened } from '../text-rows.ts'
import { CAUTIONS, joined, notShown } from '../words.ts'
import { HOME_KEYS } from './key-table.ts'
import { formOf, partsOf, type State, wayOf } from './reduce.ts'
import type { LadderRow, PassageRow } from './row.ts'
import * as say from './words.ts'

export type Shown = {
  readonly state: State
  readonly size: Size
  readonly controls: Controls
  readonly walk: Walk
  /** Monotonic ms, for what a press means now. */
  readonly now: number
}

/** What can be joined, and by which key as the player has it; empty where nothing can. */
export const joinHint = ({ join }: PassageRow, { choice }: Controls): string =>
  join ? joined([join.says, keyOf(JOIN_KEY, choice)], ': ') : ''

/** What pedals and keys do now; `take` = what the chosen line leads to. */
export const hints = ({ state: s, controls: c, walk, now }: Omit<Shown, 'size'>, take: string) => {
  const way = wayOf(s)
  return [
    walkHint(walk, now, c, { take: way ? say.WAYS[way] : take, next: 'next line' }),
    keyHints(HOME_KEYS, s.view, c.choice).join('  '),
  ] as const
}
const hintRows = (p: Shown, take: string): readonly Row[] => indented(hints(p, take), {}, BAR)

/** Behind the last line: the way out that the foot has come to, else what is not shown. */
const wayRow = (s: State, beside: string): Row => {
  const way = wayOf(s)
  return way ? row(`${CHOSEN}${say.WAYS[way]}`, BOLD) : row(`   ${beside}`, SOFT)
}

const cautionRows = (s: State): readonly Row[] => (s.cautions ? [...indented(CAUTIONS, {}, BAR), []] : [])

/** Columns of the names, with the dots that lead to what they are. */
const NAMES = 20
/** The pages lie on the ledge of a stand. */
const STAND = ['▀'.repeat(74), `${' '.repeat(36)}▐▌`, `${' '.repeat(36)}▐▌`]

/** The first start: one question, its answers, and the cautions once. */
const questionRows = (p: Shown): Halves => {
  const { state: s, size, controls } = p
  // Who plays with one foot is told before a line asks for letters.
  const needsHand = controls.pedals === 1 && say.ANSWERS[s.answer]?.answer !== 'demo'
  const answer = ({ name, says }: (typeof say.ANSWERS)[number], on: boolean): Row => [
    bar(on),
    ...cell([...row(name, on ? BOLD : {}), ...row(leader(name.length, NAMES), SOFT)], NAMES),
    { text: says },
    { text: on ? ' :║' : '', bold: true, color: 'mark' },
  ]
  return [
    [
      [],
      row(`   ${say.QUESTION}`, BOLD),
      [],
      ...say.ANSWERS.map((a, i) => answer(a, i === s.answer)),
      ...indented(STAND, SOFT, 3),
      [],
      ...cautionRows(s),
    ],
    [
      ...happened(s.note, widthOf(size)),
      wayRow(s, ''),
      ...hintRows(p, needsHand ? 'this one, at the keyboard' : 'this one'),
    ],
  ]
}

const titleOf = (s: State): string => {
  const r = s.rows[s.chosen]
  if (s.view === 'sections' && r) return `${r.piece}, ${r.place}`
  return s.view === 'question' ? say.QUESTION : say.headline(s.rows, s.around.today)
}

/** What the lines say: what it is, and where it stands; a question has one row for both. */
const linesOf = (s: State, room: number): readonly (readonly string[])[] => {
  if (s.view === 'question') return say.ANSWERS.map(a => [`${a.name}: ${a.brief}`])
  if (s.view !== 'sections')
    return s.rows.map(r => [
      `${r.piece}, ${r.place}`,
      `${say.inShort(r)}${r.days === null ? '' : `, ${daysAway(r.days)}`}`,
    ])
  // Among sections the word is the first to go.
  const brief = (place: string): string => ([...place].length > room ? place.replace(/^section /, '') : place)
  return [
    ...partsOf(s).map(p => [p === s.rows[s.chosen] ? say.WHOLE : brief(p.place), say.inShort(p)]),
    [say.TO_LIST, ''],
  ]
}

/** Down to 40x12: a row for what it is, a row for where it stands. */
const smallRows = (p: Shown): Halves => {
  const { state: s, size } = p
  const { cols } = size
  const listing = s.view !== 'question'
  const take = listing ? 'practice' : 'this one'
  const keys =
    p.controls.pedals === 1
      ? `${hints(p, take)[0]}   ${listing ? 'n: note  ' : ''}?: help  f: leave`
      : `right: ${take}  left: next  ${listing ? 'a: add  n: note  ' : ''}?: help  f: leave`
  const title = indented(inRows(titleOf(s), cols), BOLD, 0)
  const said = [s.cautions ? CAUTIONS.join(' ') : '', s.view === 'cut' ? say.CUT_QUESTION : s.note]
  const below = [...said.flatMap(text => inRows(text, cols)), ...inPhrases(keys, cols)]
  const all = linesOf(s, cols - 2)
  const at = s.view === 'question' ? s.answer : s.view === 'sections' ? s.part : s.chosen
  const room = listing
    ? Math.max(1, Math.floor((size.rows - 1 - title.length - below.length) / 2))
    : all.length
  const { from, to } = windowOf(all.length, at, room)
  const lines = all.slice(from, to).flatMap((rows, i) => {
    const on = from + i === at
    return rows.map(text => row(`${on ? CHOSEN.trim() : '  '}${shortened(text, cols - 2)}`, on ? BOLD : {}))
  })
  const more = listing ? [row(`  ${notShown(from, all.length - to)}`)] : []
  return [[...title, ...lines, ...more], indented(below, {}, 0)]
}

/** Columns of each number and the date; what is left is the music's. */
const DATE = 13
const NUMBERS = { next: 10, ceiling: 8, goal: 12 } as const
const musicWidth = (width: number): number =>
  width - BAR - DATE - NUMBERS.next - NUMBERS.ceiling - NUMBERS.goal - 1

const numberCells = (of: Readonly<Record<keyof typeof NUMBERS, Row | string>>): Row =>
  (['next', 'ceiling', 'goal'] as const).flatMap(k => cell(of[k], NUMBERS[k], true))
const ladderCells = (r: LadderRow): Row => {
  const n = say.numbers(r)
  return numberCells({ ...n, goal: row(n.goal, BOLD) })
}

/** What stands above the columns; `what` = over the first one, `when` = over the last; null = there is none. */
const heading = (what: string, when: string | null, music: number): Row => {
  const soft = (text: string): Row => row(text, SOFT)
  return [
    ...cell('', BAR),
    ...cell(soft(what), music),
    ...numberCells({ next: soft('next from'), ceiling: soft('ceiling'), goal: soft('goal') }),
    ...(when === null ? [] : cell(soft(when), DATE, true)),
  ]
}

/** A passage in one row; of the chosen one a second row says what has no column. */
const passageRows = (r: PassageRow, on: boolean, p: Shown): readonly Row[] => {
  const [date, when] = say.dateColumn(r, p.state.around.today)
  const music = musicWidth(widthOf(p.size))
  const sure = say.sureness(r)
  const place = shortened(r.place, music - 1 - (sure === '' ? 0 : sure.length + 2))
  const words = sure === '' ? place : `${place}  ${sure}`
  const rest = words.slice(place.length) + leader([...words].length, music)
  return [
    [
      bar(on),
      ...cell([...row(place, on ? BOLD : {}), ...row(rest, SOFT)], music),
      ...ladderCells(r),
      ...cell(when === '' ? 'no date' : when, DATE, true),
    ],
    ...(on ? [row(`   ${say.detail(r, date, joinHint(r, p.controls))}`, SOFT)] : []),
  ]
}

/** Rows above the list; below it: what is not shown, two rows of keys; and the second row of the chosen passage. */
const AROUND_LIST = 9

const list = (p: Shown): Halves => {
  const { state: s, size } = p
  const width = widthOf(size)
  const said = happened(s.view === 'cut' ? say.CUT_QUESTION : s.note, width)
  const cautions = cautionRows(s)
  // A row each, and one over them for each piece.
  const room = size.rows - AROUND_LIST - said.length - cautions.length
  const { from, to } = windowIn(
    room,
    s.rows.length,
    s.chosen,
    w => w.to - w.from + new Set(s.rows.slice(w.from, w.to).map(r => r.piece)).size,
  )
  const shown = s.rows.slice(from, to)
  return [
    [
      row(`   ${say.headline(s.rows, s.around.today)}`, BOLD),
      [],
      heading('', 'ready by', musicWidth(width)),
      ...shown.flatMap((r, i) => [
        ...(r.piece === shown[i - 1]?.piece ? [] : [row(shortened(`   ${r.piece}`, width))]),
        ...passageRows(r, from + i === s.chosen, p),
      ]),
    ],
    [
      wayRow(s, notShown(from, s.rows.length - to)),
      ...cautions,
      ...said,
      ...hintRows(p, s.rows[s.chosen]?.sections.length ? 'its sections' : 'practice'),
    ],
  ]
}

/** Rows around the sections: title and heads above, and below what is not shown and the keys. */
const AROUND_SECTIONS = 9

/** The sections of the chosen passage, one line each, the whole passage, and the way back. No date: its columns are the music's. */
const sections = (p: Shown, chosen: PassageRow): Halves => {
  const { state: s, size } = p
  const width = widthOf(size)
  const music = musicWidth(width) + DATE
  const parts = partsOf(s)
  const room = size.rows - AROUND_SECTIONS - inRows(s.note, width).length
  const { from, to } = windowOf(parts.length + 1, s.part, room)
  const line = (part: LadderRow, on: boolean): Row => {
    const sure = say.sureness(part) === '' ? '' : `   ${say.sureness(part)}`
    const words = shortened(part === chosen ? say.WHOLE : part.place, music - 1 - sure.length) + sure
    const dots = row(leader([...words].length, music), SOFT)
    return [bar(on), ...cell([...row(words, on ? BOLD : {}), ...dots], music), ...ladderCells(part)]
  }
  return [
    [
      row(`   ${chosen.piece}, ${chosen.place}`, BOLD),
      row(`   ${joinHint(chosen, p.controls)}`),
      heading(`in ${say.unitsOf(chosen)}`, null, music),
      [],
      ...parts.slice(from, to).map((part, i) => line(part, from + i === s.part)),
      ...(to > parts.length ? [[bar(s.part === parts.length), ...row(say.TO_LIST)]] : []),
    ],
    [
      row(`   ${notShown(from, parts.length + 1 - to)}`, SOFT),
      ...happened(s.note, width),
      ...hintRows(p, s.part === parts.length ? 'back' : 'practice'),
    ],
  ]
}

/** The form of a new passage, or of a quick ladder. */
const newForm = ({ state: s, size }: Shown, form: Form): Halves => {
  const narrow = kindOf(size) === 'small'
  const last = form.at === form.rows.length - 1
  const enter = !last ? 'next line' : s.view === 'quick' ? 'to the ladder' : 'store it'
  const several = form.rows.length > 1 ? '   up, down: another line' : ''
  return titledForm({
    title: say.formTitle(s.view === 'quick', s.rows.length > 0),
    form,
    around: s.around,
    size,
    most: narrow ? size.rows - 7 : form.rows.length,
    note: s.busy ? 'Storing ...' : s.note,
    keys: narrow
      ? `Enter: ${enter}  Escape: back`
      : `Enter: ${enter}${several}   Escape: back, nothing is lost`,
  })
}

const halves = (p: Shown): Halves => {
  const { state: s, size } = p
  const form = formOf(s)
  const chosen = s.rows[s.chosen]
  if (form) return newForm(p, form)
  if (kindOf(size) === 'small') return smallRows(p)
  if (s.view === 'sections') return chosen ? sections(p, chosen) : [[], []]
  return s.view === 'question' ? questionRows(p) : list(p)
}

/** The repertoire as a program sheet, and what belongs to it: the question of the first start, the forms. */
export const homeSheet = (p: Shown): Sheet => composed(p.size, 'for the repertoire', () => halves(p))
