import type { Row, Sheet } from '../../terminal/painted.tsx'
import { newRows } from '../form/view.ts'
import { BAR, BOLD, bar, cell, composed, type Halves, happened, row, SOFT } from '../page.ts'
import { kindOf, widthOf, windowIn, windowOf } from '../sizes.ts'
import { inRows, leader, shortened } from '../text-rows.ts'
import { cautionRows, hintRows, joinHint, type Shown, wayRow } from './hints.ts'
import { questionRows, smallRows } from './other-views.ts'
import { formOf, partsOf } from './reduce.ts'
import type { LadderRow, PassageRow } from './row.ts'
import {
  CUT_QUESTION,
  dateColumn,
  detail,
  headline,
  notShown,
  numbers,
  sureness,
  TO_LIST,
  unitsOf,
  WHOLE,
} from './words.ts'

/** Columns of each number and the date; what is left is the music's. */
const DATE = 13
const NUMBERS = { next: 10, ceiling: 8, goal: 12 } as const
const musicWidth = (width: number): number =>
  width - BAR - DATE - NUMBERS.next - NUMBERS.ceiling - NUMBERS.goal - 1

const numberCells = (of: Readonly<Record<keyof typeof NUMBERS, Row | string>>): Row =>
  (['next', 'ceiling', 'goal'] as const).flatMap(k => cell(of[k], NUMBERS[k], true))
const ladderCells = (r: LadderRow): Row => {
  const n = numbers(r)
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
  const [date, when] = dateColumn(r, p.state.around.today)
  const music = musicWidth(widthOf(p.size))
  const sure = sureness(r)
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
    ...(on ? [row(`   ${detail(r, date, joinHint(r, p.controls))}`, SOFT)] : []),
  ]
}

/** Rows above the list; below it: what is not shown, two rows of keys; and the second row of the chosen passage. */
const AROUND_LIST = 9

const list = (p: Shown): Halves => {
  const { state: s, size } = p
  const width = widthOf(size)
  const said = happened(s.view === 'cut' ? CUT_QUESTION : s.note, width)
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
      row(`   ${headline(s.rows, s.around.today)}`, BOLD),
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
    const sure = sureness(part) === '' ? '' : `   ${sureness(part)}`
    const words = shortened(part === chosen ? WHOLE : part.place, music - 1 - sure.length) + sure
    const dots = row(leader([...words].length, music), SOFT)
    return [bar(on), ...cell([...row(words, on ? BOLD : {}), ...dots], music), ...ladderCells(part)]
  }
  return [
    [
      row(`   ${chosen.piece}, ${chosen.place}`, BOLD),
      row(`   ${joinHint(chosen, p.controls)}`),
      heading(`in ${unitsOf(chosen)}`, null, music),
      [],
      ...parts.slice(from, to).map((part, i) => line(part, from + i === s.part)),
      ...(to > parts.length ? [[bar(s.part === parts.length), ...row(TO_LIST)]] : []),
    ],
    [
      row(`   ${notShown(from, parts.length + 1 - to)}`, SOFT),
      ...happened(s.note, width),
      ...hintRows(p, s.part === parts.length ? 'back' : 'practice'),
    ],
  ]
}

const halves = (p: Shown): Halves => {
  const { state: s, size } = p
  const form = formOf(s)
  const chosen = s.rows[s.chosen]
  if (form) return newRows(s, form, size)
  if (kindOf(size) === 'small') return smallRows(p)
  if (s.view === 'sections') return chosen ? sections(p, chosen) : [[], []]
  return s.view === 'question' ? questionRows(p) : list(p)
}

/** The repertoire as a program sheet, and what belongs to it: the question of the first start, the forms. */
export const homeSheet = (p: Shown): Sheet => composed(p.size, 'for the repertoire', () => halves(p))
