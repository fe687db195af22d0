import { daysBetween } from '../../music/day.ts'
import { daysAway, dayText, weekday } from '../../music/day-words.ts'
import { decimal } from '../../music/fraction.ts'
import { goalText, inUnit, type Tempo } from '../../music/tempo.ts'
import type { Day } from '../../plan/day.ts'
import type { Item, PlannedTake } from '../../plan/item.ts'
import type { Load } from '../../plan/load.ts'
import { type DayLine, endOf, nextOpen, timesOf } from '../../plan/order.ts'
import { aboutMinutes } from '../../plan/pass.ts'
import { whyText } from '../../plan/words.ts'
import { wholeOnes, wrapped } from '../text-rows.ts'
import { joined } from '../words.ts'

/** What is done, in so many signs. */
export const WHAT = 40

/** A line of the day that can be scanned: what, with the passage first, and from where to where. */
export type Columns = { readonly what: string; readonly tempo: string }

/** The end goes where there is no room: the passage stands first. */
export const fitting = (text: string, room = WHAT): string =>
  text.length <= room ? text : `${text.slice(0, room - 1).replace(/[\s,]*(?:\sm\.?)?[\s,]*$/, '')}…`

/** In the goal's note value: "quarter = 138" once, then numbers alone. */
const inGoal = (t: Tempo, goal: Tempo): string => decimal(inUnit(t, goal.unit).bpm)
const at = (t: Tempo | null): string => (t ? `at ${decimal(t.bpm)}` : '')

/** How something is played, behind its name; the piece comes last, and only where there are several. */
const said = (label: string, how: string, piece: string): string => {
  const name = joined([label, piece])
  if (how === '') return fitting(name)
  const room = WHAT - how.length - 2
  return `${fitting(name.length <= room ? name : label, room)}: ${how}`
}

const howOf = (i: Item & { kind: 'cold' | 'goal' | 'silent' | 'slow' }): string => {
  if (i.kind === 'cold') return 'once, cold'
  if (i.kind === 'goal') return 'once'
  return i.kind === 'silent' ? `${i.times} without a sound` : `${i.times} slow ones`
}

export const columnsOf = (i: Item, pieceOf: (key: string) => string): Columns => {
  switch (i.kind) {
    case 'fundamentals':
      return { what: 'Fundamentals', tempo: '' }
    case 'rest':
      return { what: 'Rest', tempo: '' }
    case 'section': {
      const from = i.again ? 'on' : i.from ? inGoal(i.from, i.goal) : '?'
      const to = i.top ? inGoal(i.top, i.goal) : i.open ? 'open' : decimal(i.goal.bpm)
      const range = !i.top && i.goalTop && !i.open ? `-${inGoal(i.goalTop, i.goal)}` : ''
      return { what: said(i.label, '', pieceOf(i.key)), tempo: `${from} -> ${to}${range}` }
    }
    case 'seam':
      return {
        what: said(i.label, 'the seam', pieceOf(i.key)),
        tempo: i.from ? `from ${decimal(i.from.bpm)}` : '',
      }
    case 'cold':
    case 'goal':
    case 'silent':
    case 'slow':
      return { what: said(i.take.label, howOf(i), pieceOf(i.take.key)), tempo: at(i.take.tempo) }
    case 'through':
    case 'run': {
      const [first, ...more] = i.takes
      const name = first ? `${first.label}${more.length > 0 ? ` and ${more.length} more` : ''}` : ''
      const how = i.kind === 'through' ? 'last time through' : i.cold ? 'once, cold' : 'one run'
      return { what: said(name, how, ''), tempo: first && more.length === 0 ? at(first.tempo) : '' }
    }
    case 'entries':
      return { what: said(i.piece, 'entrances once', ''), tempo: '' }
  }
}

/** The same to be spoken. */
export const columnWords = ({ what, tempo }: Columns): string => joined([what, tempo.replace(' -> ', ' to ')])

/** What the day is said around: the nearest date ahead, and when it begins (minutes after midnight; null = nobody knows yet). */
export type Around = {
  readonly nearest: string | null
  readonly start: number | null
  /** Which piece a key belongs to; empty where there is only one. */
  readonly pieceOf: (key: string) => string
}

const COLUMNS = 80
const WORDS = 5

/** "18:08" */
export const clockText = (minutes: number): string => {
  const whole = Math.round(minutes)
  const two = (n: number): string => String(n).padStart(2, '0')
  return `${two(Math.floor(whole / 60) % 24)}:${two(whole % 60)}`
}

/** "Wednesday, 40 minutes, rehearsal in 4 days" */
export const dayTitle = (d: Day, nearest: string | null): string =>
  joined([
    weekday(d.date),
    `${d.minutes} minutes`,
    nearest === null ? '' : `rehearsal ${daysAway(daysBetween(d.date, nearest))}`,
  ])

const bpm = (t: Tempo): string => decimal(t.bpm)
const listed = (all: readonly string[]): string => all.join('; ')
/** Passage, and the section without its place on the page. */
const SECTION = /^(.*), section ([^,]+)(?:, (?:from|at) [^,]+)?$/

type Said = { readonly name: string; readonly says?: string }
type Run = { readonly passage: string; readonly sections: readonly string[]; readonly says: string }

/** "1 to 5", "1 to 5 and 7", "1, 3 and 7" */
const together = (names: readonly string[]): string => {
  const follows = (a: string, b: string): boolean => /^\d+$/.test(a + b) && Number(b) === Number(a) + 1
  const runs: string[][] = []
  for (const n of names) {
    const last = runs.at(-1)
    if (last && follows(last.at(-1) ?? '', n)) last.push(n)
    else runs.push([n])
  }
  const parts = runs.flatMap(r => (r.length > 2 ? [`${r[0]} to ${r.at(-1)}`] : r))
  return joined([parts.slice(0, -1).join(', '), parts.at(-1) ?? ''], ' and ')
}

const runText = ({ sections, says }: Run): string =>
  `${sections.length > 1 ? 'sections' : 'section'} ${together(sections)}${says}`

/** Sections of one passage that follow each other are put together, and only the first is named in full. */
const inOneGo = (all: readonly Said[]): string => {
  const runs: (Run | string)[] = []
  for (const { name, says = '' } of all) {
    const [, passage, section] = SECTION.exec(name) ?? []
    const last = runs.at(-1)
    if (passage === undefined || section === undefined) runs.push(name + says)
    else if (typeof last === 'object' && last.passage === passage && last.says === says)
      runs[runs.length - 1] = { ...last, sections: [...last.sections, section] }
    else runs.push({ passage, sections: [section], says })
  }
  return listed(
    runs.map((r, i) => {
      if (typeof r === 'string') return r
      const before = runs[i - 1]
      return typeof before === 'object' && before.passage === r.passage
        ? runText(r)
        : `${r.passage}, ${runText(r)}`
    }),
  )
}
const taken = (t: PlannedTake): string => (t.tempo ? `${t.label} at ${bpm(t.tempo)}` : t.label)

const sectionText = (i: Item & { kind: 'section' }, label: string): string => {
  if (i.again) return `${label}: on from where you stopped`
  const from = i.from ? `from ${inGoal(i.from, i.goal)}` : 'find the start'
  const ceiling = i.ceiling ? `, ceiling ${inGoal(i.ceiling, i.goal)}` : ''
  const top = i.top ? `, nothing above ${inGoal(i.top, i.goal)} now` : ''
  const pass =
    i.ceiling && i.toPass !== null ? `, to pass ${inGoal(i.ceiling, i.goal)}: ${aboutMinutes(i.toPass)}` : ''
  return `${label}: ${from}${ceiling}, ${goalText(i.goal, i.goalTop, i.open)}${pass}${top}`
}

/** A thing of the plan, as it is called. */
export type NameOf = (o: { readonly key: string; readonly label: string }) => string
const namer =
  (pieceOf: Around['pieceOf']): NameOf =>
  o =>
    joined([pieceOf(o.key), o.label])

/** The same with why it is in this day, where that is not plain. */
export const itemWithWhy = (i: Item, pieceOf: Around['pieceOf']): string =>
  i.kind === 'section' ? `${itemText(i, pieceOf)}: ${whyText(i.why)}` : itemText(i, pieceOf)

/** What is done, in one sentence without its end. */
export const itemText = (i: Item, pieceOf: Around['pieceOf']): string => {
  const named = namer(pieceOf)
  const takes = (all: readonly PlannedTake[], name = named): string =>
    inOneGo(all.map(t => ({ name: name(t), says: t.tempo ? ` at ${bpm(t.tempo)}` : '' })))
  const label = (t: { readonly label: string }): string => t.label
  switch (i.kind) {
    case 'fundamentals':
      return 'Fundamentals'
    case 'rest':
      return 'Rest'
    case 'section':
      return sectionText(i, named(i))
    case 'seam':
      return `${named(i)}: the seam, then as one${i.from ? `, from ${bpm(i.from)}` : ''}`
    case 'cold':
      return `${taken({ ...i.take, label: named(i.take) })}: once, cold`
    case 'through':
      return `Last time through, once each: ${takes(i.takes)}`
    case 'run':
      return i.cold
        ? `${i.piece}: once from the entrance, cold, as on the day: ${takes(i.takes, label)}`
        : `${i.piece}: once through from the entrance: ${takes(i.takes, label)}`
    case 'goal':
      return `${taken({ ...i.take, label: named(i.take) })}: once, at the goal`
    case 'silent':
      return `${named(i.take)}: ${i.times} times without a sound`
    case 'slow':
      return `${named(i.take)}: two slow repetitions${i.take.tempo ? ` at ${bpm(i.take.tempo)}` : ''}`
    case 'entries':
      return `${i.piece}, within two hours before: entrances and exposed spots once, no verdicts: ${inOneGo(
        i.spots.map(s => ({ name: s.label, says: ` at ${bpm(s.from)} to ${bpm(s.to)}` })),
      )}`
  }
}

const percent = (share: number): string => `${Math.floor(share * 100)} %`

/** Whether the time is enough, as far as anybody can say; where it is not, the ways out with their numbers. */
const loadText = (l: Load | null, minutes: number, named: NameOf): string => {
  if (!l || l.word === 'enough') return ''
  if (!l.offers) return "It's still open whether everything will be ready by then: each day counts."
  const { minutes: needed, share, ready, lower } = l.offers
  const stays = inOneGo(
    lower.map(x => ({ name: named(x), says: ` at ${Math.round(x.tempo.bpm.n / x.tempo.bpm.d)}` })),
  )
  const some =
    ready.length === 0
      ? 'or each as far as it goes:'
      : `or ${ready.length} of ${ready.length + lower.length} ready, and`
  return [
    `${minutes} minutes a day probably won't get everything ready.`,
    needed === null ? 'Two ways:' : `Three ways: ${needed} minutes a day; or`,
    `all of it at ${percent(share)} of the goals;`,
    `${some} ${stays}.`,
  ].join(' ')
}

/** What is said under the plan, a sentence each. */
export const remarkLines = (d: Day, pieceOf: Around['pieceOf']): readonly string[] =>
  remarks(d, namer(pieceOf)).filter(Boolean)

/** What is said under the plan: what waits, whether the time is enough, cautions, questions. */
const remarks = (d: Day, named: NameOf): readonly string[] => [
  ...(d.jump
    ? [
        `That is a sudden jump: ${Math.round(d.jump.planned)} minutes of playing where the last seven days had ${Math.round(d.jump.usual)}. Take less, or rest more; stop when it hurts, and see a physician or therapist who treats musicians.`,
      ]
    : []),
  ...d.questions.map(
    q => `${q.piece}, ${dayText(q.readyBy, d.date)}: How was it? True tempo, spots, next date.`,
  ),
  loadText(d.load, d.minutes, named),
  ...(d.allReady ? ['Everything is ready: stop when you like.'] : []),
  ...(d.later.length > 0
    ? [`In turn on another day: ${inOneGo(d.later.map(w => ({ name: named(w) })))}.`]
    : []),
]

/** How long a line of the day is in whole minutes, as the clock times say, or that it is over. */
export const lengthText = (l: DayLine, at: number | null = null): string => {
  if (l.state !== 'open') return l.state
  const begins = at ?? 0
  return `${Math.max(1, Math.round(begins + l.item.minutes) - Math.round(begins))} min`
}

/** What comes next, to be spoken. */
export const numberedText = (number: number, l: DayLine, says: string): string =>
  `${number}, ${lengthText(l)}: ${says}.`

/** When all lines are over. */
export const overText = (evening: boolean): string =>
  evening ? 'That was the last evening: stop here, nothing more tonight.' : 'That was the day: stop here.'

/**
 * The plan set out like a rehearsal order: a sentence for a title, then columns of clock times, minutes, what, from where to
 * where; five lines of words at most. `lines` = as it stands now, with what is over and what was skipped; without them as it
 * was planned.
 */
export const dayLines = (d: Day, a: Around, lines: readonly DayLine[] | null = null): readonly string[] => {
  const row = (at: number | null, length: string, { what, tempo }: Columns): string =>
    `${(at === null || a.start === null ? '' : clockText(at)).padEnd(a.start === null ? 0 : 7)}${length.padEnd(9)}${what.padEnd(WHAT + 2)}${tempo}`.trimEnd()
  const all = lines ?? d.items.map(item => ({ name: '', item, state: 'open' as const, begun: null }))
  const start = a.start ?? 0
  const times = timesOf(all, start)
  const over = all.length > 0 && nextOpen(all, 0) === null
  const below = wholeOnes(remarkLines(d, a.pieceOf), r => wrapped(r, COLUMNS), WORDS)
  return [
    dayTitle(d, a.nearest),
    '',
    ...all.map((l, i) =>
      row(times[i] ?? null, lengthText(l, times[i] ?? null), columnsOf(l.item, a.pieceOf)),
    ),
    ...(all.length === 0
      ? []
      : over
        ? [overText(d.items.some(i => i.kind === 'slow'))]
        : [row(endOf(all, start), '', { what: 'Stop', tempo: '' })]),
    ...(below.length > 0 ? [''] : []),
    ...below,
  ]
}
