import { daysAway, dayText, weekday } from '../../music/day-words.ts'
import { decimal } from '../../music/fraction.ts'
import { noteValueName, several } from '../../music/note-value.ts'
import { goalNumbers, goalText, inUnit, type Tempo } from '../../music/tempo.ts'
import { QUICK_TITLE } from '../form/words.ts'
import type { Chapter } from '../help.ts'
import { joined } from '../words.ts'
import type { LadderRow, PassageRow } from './row.ts'

const COUNTS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten']
const counted = (n: number, thing: string): string => `${COUNTS[n] ?? n} ${thing}${n === 1 ? '' : 's'}`

/** "Tuesday, three passages, the nearest in 4 days" */
export const headline = (rows: readonly PassageRow[], today: string): string => {
  const ahead = rows.map(r => r.days).filter(d => d !== null && d >= 0) as number[]
  const when =
    ahead.length === 0
      ? ''
      : `, ${rows.length === 1 ? 'to be ready' : 'the nearest'} ${daysAway(Math.min(...ahead))}`
  return `${weekday(today)}, ${counted(rows.length, 'passage')}${when}`
}

/** The note value that the numbers of a row count: "dotted quarters". */
export const unitsOf = (r: LadderRow): string => several(noteValueName(r.goal.unit))

const inGoal = (t: Tempo, r: LadderRow): string => decimal(inUnit(t, r.goal.unit).bpm)

/** The three numbers of a row, all in the goal's note value: "about 76" where the start is looked for. */
export const numbers = (
  r: LadderRow,
): { readonly next: string; readonly ceiling: string; readonly goal: string } => ({
  next: r.next === null ? '?' : `${r.finding ? 'about ' : ''}${inGoal(r.next, r)}`,
  ceiling: r.ceiling === null ? 'none' : inGoal(r.ceiling, r),
  goal: r.open ? 'open' : goalNumbers(r.goal, r.top),
})

/** "ready", or "secure 104"; empty before the first clean cold take. */
export const sureness = (r: LadderRow): string =>
  r.ready ? 'ready' : r.secure ? `secure ${inGoal(r.secure, r)}` : ''

/** "March 28" and "in 4 days"; two empty texts without a date. */
export const dateColumn = (r: PassageRow, today: string): readonly [string, string] =>
  r.readyBy === null || r.days === null ? ['', ''] : [dayText(r.readyBy, today), daysAway(r.days)]

/** What there is no column for: the music, what its numbers count, the date, and what can be joined. */
export const detail = (r: PassageRow, date: string, join: string): string =>
  joined(
    [
      `${r.music}, in ${unitsOf(r)}`,
      date === '' ? '' : `by ${date}`,
      r.sections.length === 0 ? '' : counted(r.sections.length, 'section'),
      join,
    ],
    '   ',
  )

/** What a row says in one line, for plain lines and small windows. */
export const inOneLine = (r: PassageRow, today: string): string => {
  const { next, ceiling } = numbers(r)
  const [date, when] = dateColumn(r, today)
  return joined([
    r.next === null ? '' : r.finding ? `next ${next}, to find the start` : `next from ${next}`,
    r.ceiling === null ? 'no ceiling yet' : `ceiling ${ceiling}`,
    sureness(r),
    'join' in r && r.join ? r.join.says : '',
    goalText(r.goal, r.top, r.open),
    date === '' ? '' : `ready by ${date}, ${when}`,
    r.sections.length === 0 ? '' : counted(r.sections.length, 'section'),
  ])
}

/** The same for a window of 40 columns: what was lost at its end is lost least. */
export const inShort = (r: LadderRow): string => {
  const { next, ceiling, goal } = numbers(r)
  const known = r.ceiling === null ? '' : `ceiling ${ceiling}`
  return joined([`next ${next}`, known, `goal ${goal}`])
}

export const QUESTION = 'What is on the stand?'

export type Answer = 'quick' | 'piece' | 'score' | 'demo'

/** The ways in: name, what it is, and what does the same on a command line. */
export const ANSWERS: readonly {
  readonly answer: Answer
  readonly name: string
  readonly says: string
  /** The same for 40 columns, its name before it. */
  readonly brief: string
  readonly typed: string
}[] = [
  {
    answer: 'quick',
    name: 'A quick ladder',
    says: 'a goal tempo and nothing else',
    brief: 'only a goal tempo',
    typed: 'gradino practice --goal 120',
  },
  {
    answer: 'piece',
    name: 'A first piece',
    says: 'a passage, its goal and its date, kept from day to day',
    brief: 'a passage, day by day',
    typed: 'gradino piece add TITLE --in 41-44 --goal 120',
  },
  {
    answer: 'score',
    name: 'A part from a score',
    says: 'its hard places, from a MusicXML file: drop it here',
    brief: 'a MusicXML file',
    typed: 'gradino piece import FILE',
  },
  {
    answer: 'demo',
    name: 'The demonstration',
    says: 'watch and hear a scripted player climb a ladder',
    brief: 'watch and listen',
    typed: 'gradino demo',
  },
]

/** What stands in the list, for the help. */
export const LIST_WORDS: Chapter['entries'] = [
  ['', 'The passage with the nearest date comes first.'],
  [
    'next from',
    'the tempo at which the next visit begins; "about" where there is no ceiling yet and the start is looked for from there',
  ],
  ['ceiling', 'the highest tempo whose rung was completed'],
  ['secure', 'the highest tempo of a clean cold take: the first of a day, once'],
  ['ready', 'the goal reached, and clean cold takes at it on two days; of a range on two days at each end'],
]

/** What a form of something new is called. */
export const formTitle = (quick: boolean, more: boolean): string =>
  quick ? QUICK_TITLE : more ? 'A new passage' : 'A first piece'

/** The last two lines below the sections of a passage. */
export const WHOLE = 'the whole passage'
export const TO_LIST = 'back to the repertoire'

/** The ways out, which one pedal comes to behind the last line. */
export const WAYS = { day: 'to the day', leave: 'leave' } as const
export type WayOut = keyof typeof WAYS

/** How a passage is cut into small sections, and the key for each. */
export const CUTS = [
  { by: 'measure', key: 'm' },
  { by: 'half', key: 'h' },
  { by: 'beat', key: 'b' },
] as const
export type CutBy = (typeof CUTS)[number]['by']
export const CUT_QUESTION =
  'Cut into sections: m by measure, h by half measure, b by beat. Any other key: no.'
export const ALREADY_CUT = 'You already cut it into sections: Enter opens them, e changes them.'

/** The repertoire as lines: what the screen shows, for screen readers, simple terminals and pipes. */
export const listLines = (rows: readonly PassageRow[], today: string): readonly string[] => [
  `${headline(rows, today)}.`,
  ...rows.map(r => `${r.piece}, ${r.place}: ${inOneLine(r, today)}.`),
]

/** The question of the first start as lines, each answer with the command that gives it. */
export const questionLines = (): readonly string[] => [
  QUESTION,
  ...ANSWERS.map(a => `${a.name}: ${a.says}. Type: ${a.typed}`),
]

export const NOT_READY = 'Two neighbors can be joined once both are at 85 % of their goals.'
