import type { PageElement } from '../files/page.ts'
import { rungs } from '../ladder/rungs.ts'
import { daysBetween } from '../music/day.ts'
import { daysAway, dayText } from '../music/day-words.ts'
import { decimal } from '../music/fraction.ts'
import {
  goalNumbers,
  goalText,
  goalWords,
  inUnit,
  sameTempo,
  spoken,
  spokenGoal,
  type Tempo,
} from '../music/tempo.ts'
import { count } from '../music/words.ts'
import type { Figures, Other } from '../plan/report-figures.ts'
import {
  LATELY,
  type Period,
  type RecentStops,
  type StopRow,
  stopsText,
  wordsOf,
  wrongsText,
} from '../plan/stops.ts'
import type { PassageRow } from '../screens/home/row.ts'

/** All that a report says, before it is said. Notes are sentences with what they are about. */
export type Report = {
  readonly title: string
  readonly today: string
  readonly period: Period
  readonly daysPlayed: number
  readonly minutes: number
  readonly parts: readonly Figures[]
  readonly others: readonly Other[]
  readonly recent: readonly (RecentStops & { readonly label: string })[]
  readonly breaks: readonly StopRow[]
  readonly questions: readonly string[]
  /** Null = the player's own notes stay private. */
  readonly notes: readonly string[] | null
  readonly rows: readonly PassageRow[]
}

/** So many places are listed. */
const PLACES = 12

const periodText = (r: Report): string => {
  const { from, to } = r.period
  // Of two years both are said.
  const said = (day: string): string => dayText(day, from.slice(0, 4) === to.slice(0, 4) ? r.today : '')
  const days = from === to ? said(from) : `${said(from)} to ${said(to)}`
  return `${days}: played on ${r.daysPlayed} of ${count(daysBetween(from, to) + 1, 'day')}, ${count(r.minutes, 'minute')}.`
}

/** Of fewer verdicts a percentage says nothing. */
const FEW = 5

const cleanText = (p: Pick<Figures, 'clean' | 'verdicts'>): string =>
  p.verdicts === 0
    ? 'not played'
    : `${p.clean} of ${p.verdicts}${p.verdicts < FEW ? '' : ` (${Math.round((100 * p.clean) / p.verdicts)} %)`}`

const partRow = (p: Figures): readonly string[] => {
  const number = (t: Tempo | null): string => (t ? decimal(inUnit(t, p.goal.unit).bpm) : 'none')
  const trend =
    p.first === null || p.ceiling === null
      ? 'none'
      : sameTempo(p.first, p.ceiling)
        ? `${number(p.first)}, level`
        : `${number(p.first)} to ${number(p.ceiling)}`
  return [
    p.label,
    goalWords(p.goal, p.top, p.open),
    number(p.ceiling),
    number(p.secure),
    p.ready ? 'yes' : 'no',
    cleanText(p),
    trend,
  ]
}

const temposText = (b: StopRow): string => {
  if (!b.tempos) return ''
  const [low, high] = b.tempos
  return sameTempo(low, high) ? spoken(low) : `${spoken(low)} to ${decimal(inUnit(high, low.unit).bpm)}`
}

const breakRow = (b: StopRow): readonly string[] => {
  return [b.label, wordsOf(b), String(b.stops), temposText(b), wrongsText(b.wrongs)]
}

/** "from quarter = 96 to 138, 9 rungs" */
const wayText = ({
  ceiling,
  goal,
  top,
  open,
}: Pick<PassageRow, 'ceiling' | 'goal' | 'top' | 'open'>): string => {
  if (ceiling === null)
    return `${open ? goalText(goal, top, open) : `to ${spokenGoal(goal, top)}`}, no ceiling yet`
  const range = open ? ' (goal open)' : top ? ` (goal ${goalNumbers(goal, top)})` : ''
  const way = rungs(ceiling, goal, { kind: 'notch' })
  const left = way.ok ? way.value.length - 1 : 0
  return left === 0
    ? `${spoken(goal)} was reached${range}`
    : `from ${spoken(inUnit(ceiling, goal.unit))} to ${decimal(goal.bpm)}${range}, ${count(left, 'rung')}`
}

/**
 * "run at the weir, m. 41-44: by March 28, in 13 days, from quarter = 96 to 138, 9 rungs"; as long as only its sections
 * were played, theirs.
 */
const ahead = (r: PassageRow, today: string): string => {
  const date =
    r.readyBy === null || r.days === null ? 'no date' : `by ${dayText(r.readyBy, today)}, ${daysAway(r.days)}`
  const climbing = r.ceiling === null && r.sections.some(s => s.ceiling !== null)
  return climbing
    ? `${r.place}: ${[date, ...r.sections.map(s => `${s.place} ${wayText(s)}`)].join('; ')}`
    : `${r.place}: ${date}, ${wayText(r)}`
}

const text = (says: string): PageElement => ({ kind: 'text', text: says })
const list = (items: readonly string[]): PageElement => ({ kind: 'list', items })
const listOr = (items: readonly string[], none: string): PageElement =>
  items.length > 0 ? list(items) : text(none)
const section = (heading: string, ...blocks: readonly PageElement[]): readonly PageElement[] => [
  { kind: 'heading', text: heading },
  ...blocks,
]

/** "section 2: breaks most in m. 43, beat 2: 7 of 12 stops ...", of the last two weeks too where they differ. */
const recentText = ({ label, all, lately }: Report['recent'][number]): string => {
  const [inAll, recent] = [stopsText(all), stopsText(lately)]
  if (inAll === recent) return `${label}: ${inAll}`
  return `${label}: ${inAll}. Last ${LATELY} days: ${recent || 'no stops'}`
}

const breaksSection = ({ breaks, recent }: Report): readonly PageElement[] => {
  const more = breaks.length - PLACES
  if (breaks.length + recent.length === 0) return section('Where it breaks', text('No stops in this time.'))
  const head = ['passage', 'place', 'stops', 'at', 'noted']
  const rows = breaks.slice(0, PLACES).map(breakRow)
  return section(
    'Where it breaks',
    ...(recent.length > 0 ? [list(recent.map(recentText))] : []),
    ...(rows.length > 0 ? [{ kind: 'table', head, rows } as const] : []),
    ...(more > 0 ? [text(`And ${count(more, 'more place')}.`)] : []),
  )
}

/** The page for a lesson: figures, places, questions, what is ahead. */
export const reportPage = (r: Report): readonly PageElement[] => [
  { kind: 'title', text: r.title },
  text(periodText(r)),
  ...section('Tempos', {
    kind: 'table',
    head: ['section', 'goal', 'ceiling', 'secure', 'ready', 'clean', 'climbed'],
    rows: r.parts.map(partRow),
  }),
  ...(r.others.length > 0
    ? [text('Also played:'), list(r.others.map(o => `${o.label}: ${cleanText(o)} clean`))]
    : []),
  ...breaksSection(r),
  ...section('Questions for the teacher', listOr(r.questions, 'None noted.')),
  ...section(
    'Until the date',
    listOr(
      r.rows.map(row => ahead(row, r.today)),
      'No passage yet.',
    ),
  ),
  ...(r.notes === null ? [] : section('Notes', listOr(r.notes, 'None.'))),
  text(
    'Ceiling: highest tempo whose rung was completed. Secure: highest tempo of a clean first take of a day. Ready: clean first takes at the goal on two days (for a range, at each end). Climbed: the ceiling after the first day in this report, and now.',
  ),
]
