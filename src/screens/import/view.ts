import { type Controls, keyHints } from '../../terminal/key-table.ts'
import type { Row, Sheet } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { keyLabel } from '../../terminal/words.ts'
import { BAR, BOLD, bar, cell, composed, type Halves, happened, indented, SOFT, typedLine } from '../page.ts'
import { kindOf, widthOf } from '../sizes.ts'
import { inRows } from '../text-rows.ts'
import { IMPORT_KEYS } from './key-table.ts'
import { goalsOf, type ImportRow, isText, openOf, printedIn, rowsOf, type State } from './reduce.ts'
import { absurdGoal, BUSY, goalWords, LABELS, MAY_BE, MEASURES, TITLE } from './words.ts'

const LABEL = 11

const movementText = (names: readonly string[], at: number): string => {
  const name = names[at - 1] ?? ''
  if (at === 0) return names.length === 2 ? 'both' : `all ${names.length}`
  return /^movement \d+/.test(name) || /^[IVX]+\b/.test(name) ? name : `${at}. ${name}`
}

/** All that a line offers, and which of it stands; empty where it is typed. */
const choicesIn = (s: State, row: ImportRow): { readonly all: readonly string[]; readonly at: number } => {
  const { parts = [], movements = [] } = s.offer ?? {}
  switch (row) {
    case 'part':
      return { all: parts.map(p => p.name), at: s.part }
    case 'movement':
      return { all: ['', ...movements].map((_, i) => movementText(movements, i)), at: s.movement }
    case 'pieces':
      return { all: ['one piece', `${movements.length} pieces, one a movement`], at: s.apart ? 1 : 0 }
    case 'which':
      return { all: Object.values(MEASURES), at: Object.keys(MEASURES).indexOf(s.which) }
    case 'goal':
      return { all: goalsOf(s).map(g => goalWords(g, printedIn(s))), at: goalsOf(s).indexOf(s.goal) }
    default:
      return { all: [], at: 0 }
  }
}

/** What stands in a line. */
const standsIn = (s: State, row: ImportRow): string => {
  const { all, at } = choicesIn(s, row)
  return all[at] ?? ''
}

/** Below the lines: the other choices of the one in hand, or what may be typed in it. */
const underLine = (s: State): string => {
  if (isText(s.row)) return MAY_BE[s.row]
  const { all, at } = choicesIn(s, s.row)
  const others = all.filter((_, i) => i !== at)
  return others.length === 0 ? '' : `or: ${others.join(' · ')}`
}

const asksGoal = (s: State): string => {
  const printed = printedIn(s)
  return s.offer && s.goal === 'score' && printed.kind === 'absurd' ? absurdGoal(printed) : ''
}

/** The screen as one line, where lines are said. */
export const said = (s: State): string =>
  rowsOf(s)
    .map(row => `${LABELS[row]}: ${isText(row) ? s.texts[row].text : standsIn(s, row)}`)
    .join(', ')

const lineRow = (s: State, line: ImportRow, width: number): Row => {
  const on = line === s.row
  const style = on ? BOLD : {}
  const room = width - BAR - LABEL - 1
  const { all, at } = choicesIn(s, line)
  const count = all.length > 3 ? `   ${at + 1} of ${all.length}` : ''
  const stands = isText(line)
    ? typedLine(s.texts[line].text, on ? s.texts[line].cursor : null, room, style)
    : typedLine(standsIn(s, line), null, room - count.length, style)
  return [
    bar(on),
    ...cell([{ text: LABELS[line], ...SOFT }], LABEL),
    ...stands,
    { text: on ? count : '', ...SOFT },
  ]
}

/** What the pedals and Enter do, and the other keys. */
const hintsOf = (s: State, c: Controls): readonly string[] => {
  const does = s.offer ? 'import it' : 'read it'
  const next = openOf(s) === 'choice' && c.pedals === 2 ? `   left (${keyLabel(c.left)}): next choice` : ''
  return [
    `right (${keyLabel(c.right)}) or Enter: ${does}${next}`,
    keyHints(IMPORT_KEYS, openOf(s), c.choice).join('   '),
  ]
}

/** As many lines as fit, the one in hand among them. */
const linesThatFit = (s: State, most: number): readonly ImportRow[] => {
  const all = rowsOf(s)
  const from = Math.max(0, Math.min(all.indexOf(s.row) - most + 1, all.length - most))
  return all.slice(from, from + Math.max(1, most))
}

/** One screen: what stands is taken with one press. */
export const importSheet = (s: State, size: Size, controls: Controls): Sheet =>
  composed(size, 'to play by', () => halves(s, size, controls))

const halves = (s: State, size: Size, controls: Controls): Halves => {
  const narrow = kindOf(size) === 'small'
  const width = widthOf(size)
  const margin = narrow ? 0 : BAR
  const gap = narrow ? [] : [[]]
  const hints = hintsOf(s, controls).flatMap(text => (narrow ? inRows(text, width) : [text]))
  const note = s.busy ? BUSY[s.offer ? 'part' : 'file'] : s.note
  const under = inRows(underLine(s), width - 2 * margin - 1).slice(0, narrow ? 2 : 5)
  const notes = [asksGoal(s), note].filter(text => text !== '').length
  const room = size.rows - (narrow ? 1 : 4) - hints.length - under.length - notes
  return [
    [
      ...indented([s.offer ? `${TITLE}: ${s.offer.title}` : TITLE], BOLD, margin),
      ...gap,
      ...linesThatFit(s, room).map(line => lineRow(s, line, width)),
      ...gap,
      ...indented(under, SOFT, margin),
    ],
    [...happened(asksGoal(s), width), ...happened(note, width), ...indented(hints, {}, margin)],
  ]
}
