import { dayText } from '../../music/day-words.ts'
import { type DayLine, endOf, timesOf } from '../../plan/order.ts'
import { type Controls, keyHelp, keyHints } from '../../terminal/key-table.ts'
import type { Row, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { keyLabel } from '../../terminal/words.ts'
import { type Walk, walkHint } from '../choosing.ts'
import { type Chapter, listPedals } from '../help.ts'
import {
  BAR,
  BOLD,
  bar,
  CHOSEN,
  cell,
  composed,
  type Halves,
  indented,
  listed,
  row,
  SOFT,
  typedLine,
} from '../page.ts'
import { kindOf, widthOf, windowIn, windowOf } from '../sizes.ts'
import { inPhrases, inRows, wholeOnes } from '../text-rows.ts'
import { notShown } from '../words.ts'
import { DAY_KEYS } from './key-table.ts'
import { type Columns, clockText, fitting, lengthText, overText, WHAT } from './line-words.ts'
import {
  atStop,
  formAt,
  isClosed,
  isOver,
  lineAt,
  menuOf,
  menuTitle,
  questionAt,
  type State,
} from './reduce.ts'
import { AFTER_FIELDS, afterKeys, DAY_IN_ORDER, howWasIt, TURN_ENDS } from './words.ts'

export type Shown = {
  readonly state: State
  readonly size: Size
  readonly controls: Controls
  readonly walk: Walk
  /** Monotonic ms, for what a press means now. */
  readonly now: number
  /** A line in words, and in columns. */
  readonly text: (l: DayLine) => string
  readonly columns: (l: DayLine) => Columns
}

/** What the pedals and keys do now. */
export const hints = (
  { state: s, controls: c, walk, now }: Pick<Shown, 'state' | 'controls' | 'walk' | 'now'>,
  small = false,
): readonly string[] => {
  const keys = keyHints(DAY_KEYS, 'day', c.choice)
  const leaving = keys.filter(k => /pieces|note|help|leave/.test(k)).join('  ')
  if (menuOf(s))
    return [
      walkHint(walk, now, c, { take: 'this one', next: 'next' }),
      `Escape: ${s.view === 'close' ? 'the day' : 'not now'}`,
    ]
  if (isClosed(s)) {
    const does = walk.press('right', now) === 'take' ? 'leave' : 'choose, then leave'
    return [c.pedals === 1 ? `pedal (${keyLabel(c.right)}): ${does}   ${leaving}` : leaving]
  }
  const answer = c.pedals === 1 ? 'answer at the keyboard' : 'answer'
  const begin = lineAt(s)?.state === 'done' ? 'once more' : 'begin'
  const take = questionAt(s) ? answer : atStop(s) ? 'stop' : begin
  if (small && c.pedals === 2) return [`Enter: ${take}  ${leaving}`]
  const pedals = walkHint(walk, now, c, { take, next: 'next line' })
  return small ? [pedals] : [pedals, keys.join('  ')]
}

/** The same in whole rows. */
const hintRows = (p: Shown): readonly Row[] => {
  const width = widthOf(p.size) - BAR
  return indented(
    hints(p, kindOf(p.size) === 'small').flatMap(h => inPhrases(h, width)),
    {},
    BAR,
  )
}

/** Columns of the clock and the minutes. */
const CLOCK = 7
const MINUTES = 9
/** A window so narrow has the minutes close by, so that the tempos have room; one with less room than this leaves them out. */
const NARROW = 60
const CLOSE = 7
const ROOM = 28
const minutesIn = (width: number): number => (width < NARROW ? CLOSE : MINUTES)
const roomIn = (width: number): number => width - BAR - CLOCK - minutesIn(width) - 1

/** What stands on a line that the cursor does not stand on. */
const columnText = ({ what, tempo }: Columns, room: number): string => {
  if (room < ROOM) return fitting(what, room)
  const name = Math.min(WHAT, room - tempo.length - 2)
  return `${fitting(what, name).padEnd(name + 2)}${tempo}`.trimEnd()
}

const lineRows = (p: Shown, line: DayLine, time: number | null, on: boolean): readonly Row[] => {
  const width = widthOf(p.size)
  const room = roomIn(width)
  const soft = line.state === 'open' ? {} : SOFT
  const rows = on ? inRows(p.text(line), room) : [columnText(p.columns(line), room)]
  return rows.map((text, i) => [
    bar(on),
    ...cell(row(i > 0 || time === null ? '' : clockText(time), soft), CLOCK),
    ...cell(row(i > 0 ? '' : lengthText(line, time), soft), minutesIn(width)),
    { text, ...soft, ...(on ? BOLD : {}) },
  ])
}

/** All that is said of what is over. */
export const overNotes = (s: State): readonly string[] =>
  isOver(s) && s.lines.length > 0 ? [overText(s.evening)] : []

const day = (p: Shown): Halves => {
  const { state: s, size } = p
  const width = widthOf(size)
  const times = timesOf(s.lines, s.now)
  const line = lineAt(s)
  const wraps = line ? inRows(p.text(line), roomIn(width)).length - 1 : 0
  const said = [...s.note, ...overNotes(s)]
    .flatMap(n => inRows(n, width - 4))
    .slice(0, Math.max(3, size.rows - 6))
  const title = inRows(s.title, width - 2 * BAR)
  const small = kindOf(size) === 'small'
  const keys = hintRows(p)
  const asked = s.questions.length
  const fixed = title.length + asked + wraps + said.length + keys.length + (small ? 2 : 5)
  const { from, to } = windowOf(s.lines.length, Math.max(0, s.at - asked), Math.max(1, size.rows - fixed))
  const remarks = wholeOnes(s.remarks, r => inRows(r, width - 2 * BAR), size.rows - fixed - (to - from) - 1)
  const end =
    to < s.lines.length
      ? `${s.lines.length - to} more`
      : `${clockText(endOf(s.lines, s.now)).padEnd(CLOCK + minutesIn(width))}Stop`
  return [
    [
      ...indented(title, BOLD, BAR),
      ...(small ? [] : [[]]),
      ...s.questions.map((q, i) =>
        listed(
          i === s.at,
          `How was it? ${q.piece}, ${dayText(q.readyBy, s.questions[0]?.readyBy ?? q.readyBy)}`,
        ),
      ),
      ...s.lines
        .slice(from, to)
        .flatMap((l, i) => lineRows(p, l, times[from + i] ?? null, from + i + asked === s.at)),
      atStop(s) ? row(`${CHOSEN}${end}`, BOLD) : row(`   ${end}`),
      ...(remarks.length > 0 ? [[]] : []),
      ...indented(remarks, SOFT, BAR),
    ],
    [...indented(said, BOLD, BAR), ...keys],
  ]
}

/** Nothing is offered: what was noted, and what to do. */
const pain = (p: Shown, says: string): Halves => [
  [row(`   ${p.state.title}`, BOLD), [], ...indented(inRows(says, widthOf(p.size) - 2 * BAR), BOLD, BAR)],
  hintRows(p),
]

/** Columns of what is asked after a date. */
const LABEL = 14

/** After a date: three short fields. */
const after = ({ state: s, size, controls }: Shown): Halves => {
  const form = formAt(s)
  const width = widthOf(size)
  return [
    [
      row(`   ${afterTitle(s)}`, BOLD),
      [],
      ...AFTER_FIELDS.map((f, i): Row => {
        const on = i === form.at
        const { text, cursor } = form.texts[f.key]
        return [
          bar(on),
          ...cell(row(f.label, on ? BOLD : {}), LABEL),
          ...typedLine(text, on ? cursor : null, width - BAR - LABEL - 2),
        ]
      }),
      [],
      row(`   ${AFTER_FIELDS[form.at]?.hint ?? ''}`, SOFT),
    ],
    [
      ...s.note.flatMap(n => indented(inRows(n, width - 2 * BAR), BOLD, BAR)),
      ...indented(afterKeys(controls), {}, BAR),
    ],
  ]
}

export const afterTitle = (s: State): string => howWasIt(questionAt(s)?.piece ?? '')

/** Rows of the choices that stand in any window. */
const LEAST = 5

/** The list that lies over the day, one line of it under the cursor. */
const menu = (p: Shown): Halves => {
  const { state: s, size } = p
  const width = widthOf(size)
  const title = inRows(menuTitle(s), width - 2 * BAR)
  const keys = hintRows(p)
  const ways = (menuOf(s) ?? []).map(w => inRows(w.text, width - BAR - 2))
  const room = size.rows - title.length - keys.length - (kindOf(size) === 'full' ? 2 : 1)
  // What is chosen from comes before what was said.
  const all = ways.flat().length
  const said = wholeOnes(s.note, n => inRows(n, width - 4), room - Math.min(all, LEAST))
  const free = room - said.length
  const whole = all <= free
  const { from, to } = windowIn(
    whole ? free : free - 1,
    ways.length,
    s.pick,
    w => ways.slice(w.from, w.to).flat().length,
  )
  return [
    [
      ...indented(title, BOLD, BAR),
      [],
      ...ways
        .slice(from, to)
        .flatMap((way, i) =>
          way.map((text, n) => listed(from + i === s.pick, `${n > 0 ? '  ' : ''}${text}`)),
        ),
      ...(whole ? [] : [row(`   ${notShown(from, ways.length - to)}`, SOFT)]),
    ],
    [...indented(said, BOLD, BAR), ...keys],
  ]
}

/** What the pedals and the keys of the day do. */
export const dayHelp = (c: Controls): readonly Chapter[] => [
  { title: '', entries: [['', DAY_IN_ORDER]] },
  listPedals(c, 'begin what the line says'),
  { title: 'The keys', entries: keyHelp(DAY_KEYS, c.choice) },
  { title: '', entries: [['', TURN_ENDS]] },
]

const halves = (p: Shown): Halves => {
  const { state: s } = p
  if (menuOf(s)) return menu(p)
  if (s.view === 'after') return after(p)
  return s.pain === null ? day(p) : pain(p, s.pain)
}

/** The plan of the day as a rehearsal order that is played from. */
export const daySheet = (p: Shown): Sheet => composed(p.size, 'for the day', () => halves(p))
