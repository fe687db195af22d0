import { daysAway } from '../../music/day-words.ts'
import type { Row } from '../../terminal/painted.tsx'
import { BOLD, bar, CHOSEN, cell, type Halves, happened, indented, row, SOFT } from '../page.ts'
import { widthOf, windowOf } from '../sizes.ts'
import { inPhrases, inRows, leader, shortened } from '../text-rows.ts'
import { CAUTIONS } from '../words.ts'
import { cautionRows, hintRows, hints, type Shown, wayRow } from './hints.ts'
import { partsOf, type State } from './reduce.ts'
import { ANSWERS, CUT_QUESTION, headline, inShort, notShown, QUESTION, TO_LIST, WHOLE } from './words.ts'

/** Columns of the names, with the dots that lead to what they are. */
const NAMES = 20
/** The pages lie on the ledge of a stand. */
const STAND = ['▀'.repeat(74), `${' '.repeat(36)}▐▌`, `${' '.repeat(36)}▐▌`]

/** The first start: one question, its answers, and the cautions once. */
export const questionRows = (p: Shown): Halves => {
  const { state: s, size, controls } = p
  // Who plays with one foot is told before a line asks for letters.
  const needsHand = controls.pedals === 1 && ANSWERS[s.answer]?.answer !== 'demo'
  const answer = ({ name, says }: (typeof ANSWERS)[number], on: boolean): Row => [
    bar(on),
    ...cell([...row(name, on ? BOLD : {}), ...row(leader(name.length, NAMES), SOFT)], NAMES),
    { text: says },
    { text: on ? ' :║' : '', bold: true, color: 'mark' },
  ]
  return [
    [
      [],
      row(`   ${QUESTION}`, BOLD),
      [],
      ...ANSWERS.map((a, i) => answer(a, i === s.answer)),
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
  return s.view === 'question' ? QUESTION : headline(s.rows, s.around.today)
}

/** What the lines say: what it is, and where it stands; a question has one row for both. */
const linesOf = (s: State, room: number): readonly (readonly string[])[] => {
  if (s.view === 'question') return ANSWERS.map(a => [`${a.name}: ${a.brief}`])
  if (s.view !== 'sections')
    return s.rows.map(r => [
      `${r.piece}, ${r.place}`,
      `${inShort(r)}${r.days === null ? '' : `, ${daysAway(r.days)}`}`,
    ])
  // Among sections the word is the first to go.
  const brief = (place: string): string => ([...place].length > room ? place.replace(/^section /, '') : place)
  return [
    ...partsOf(s).map(p => [p === s.rows[s.chosen] ? WHOLE : brief(p.place), inShort(p)]),
    [TO_LIST, ''],
  ]
}

/** Down to 40x12: a row for what it is, a row for where it stands. */
export const smallRows = (p: Shown): Halves => {
  const { state: s, size } = p
  const { cols } = size
  const listing = s.view !== 'question'
  const take = listing ? 'practice' : 'this one'
  const keys =
    p.controls.pedals === 1
      ? `${hints(p, take)[0]}   ${listing ? 'n: note  ' : ''}?: help  f: leave`
      : `right: ${take}  left: next  ${listing ? 'a: add  n: note  ' : ''}?: help  f: leave`
  const title = indented(inRows(titleOf(s), cols), BOLD, 0)
  const said = [s.cautions ? CAUTIONS.join(' ') : '', s.view === 'cut' ? CUT_QUESTION : s.note]
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
