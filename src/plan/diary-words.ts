import { mondayOf } from '../music/day.ts'
import { dayText, fullDay } from '../music/day-words.ts'
import { decimal } from '../music/fraction.ts'
import { inUnit, spoken } from '../music/tempo.ts'
import { count } from '../music/words.ts'
import type { Day, DiaryEntry, Week } from './diary-days.ts'
import { nameText, type PracticedName } from './practiced-names.ts'

const WORDS = ['none', 'one', 'two', 'three', 'four', 'five', 'six', 'seven']

export const minutesOf = (seconds: number): number => Math.round(seconds / 60)
const minutesText = (seconds: number): string =>
  minutesOf(seconds) === 0 ? 'less than a minute' : count(minutesOf(seconds), 'minute')

/** "This week: played on three of five days, 96 minutes." */
const weekLine = (w: Week, today: string): string => {
  const which = w.from === mondayOf(today) ? 'This week' : `Week of ${dayText(w.from, today)}`
  const of = w.length === 1 ? 'one day' : `${WORDS[w.length]} days`
  return w.days.length === 0
    ? `${which}: nothing played yet.`
    : `${which}: played on ${WORDS[w.days.length]} of ${of}, ${minutesText(w.seconds)}.`
}

/** "40 repetitions, 31 of 38 clean, ceiling quarter = 112, before 104"; of a take "clean at quarter = 112". */
const entryText = (e: DiaryEntry, take: boolean): string =>
  [
    count(e.repetitions, 'repetition'),
    e.verdicts > 0 ? `${e.clean} of ${e.verdicts} clean` : '',
    e.ceiling ? `${take ? 'clean at' : 'ceiling'} ${spoken(e.ceiling)}` : '',
    e.ceiling && e.before ? `before ${decimal(inUnit(e.before, e.ceiling.unit).bpm)}` : '',
    e.goal && !take ? 'the goal reached' : '',
  ]
    .filter(Boolean)
    .join(', ')

type Said = { readonly named: PracticedName; readonly text: string }

/** What was played of one passage: a line, or where there was more of it a heading and a line for each. */
const passageLines = (all: readonly Said[]): readonly string[] => {
  const [first] = all
  if (!first || all.length === 1) return all.map(s => `  ${nameText(s.named)}: ${s.text}`)
  const { piece, passage } = first.named
  const rest = (n: PracticedName): string => nameText({ ...n, piece: '', passage: '' }) || 'as a whole'
  return [
    `  ${[piece, passage].filter(Boolean).join(', ')}`,
    ...all.map(s => `    ${rest(s.named)}: ${s.text}`),
  ]
}

const dayLines = (d: Day, today: string, name: (key: string) => PracticedName): readonly string[] => {
  const said = d.entries.map(e => {
    const named = name(e.key)
    return { named, text: entryText(e, named.take !== null) }
  })
  const of = ({ named }: Said): string => `${named.piece}\n${named.passage}`
  return [
    `${fullDay(d.date, today)}: ${minutesText(d.seconds)}`,
    ...[...new Set(said.map(of))].flatMap(one => passageLines(said.filter(s => of(s) === one))),
  ]
}

/** The weeks, each on its page: a sentence, then its days. */
export const diaryLines = (
  weeks: readonly Week[],
  today: string,
  name: (key: string) => PracticedName,
): readonly string[] =>
  weeks.flatMap((w, i) => [
    ...(i > 0 ? [''] : []),
    weekLine(w, today),
    ...w.days.flatMap(d => dayLines(d, today, name)),
  ])
