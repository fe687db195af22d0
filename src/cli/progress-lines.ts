import { rungs } from '../ladder/rungs.ts'
import type { Standing } from '../ladder/standing.ts'
import { dayText } from '../music/day-words.ts'
import { decimal, toNumber } from '../music/fraction.ts'
import { goalText, inUnit, slower, type Tempo } from '../music/tempo.ts'
import { type OtherWay, otherWayText } from '../plan/other-ways.ts'
import type { OneRule, Outlook } from '../plan/outlook.ts'
import { type RecentStops, stopsText } from '../plan/stops.ts'
import type { Subject } from '../plan/works.ts'
import { isOpen } from '../repertoire/piece.ts'
import { staircase } from '../screens/progress/staircase.ts'
import { countedText, leftOutText, outlookText } from '../screens/progress/words.ts'
import { wrapped } from '../screens/today/wrap.ts'

export const COLUMNS = 80

/** Rungs in the picture: a section that is looked at alone fits a screen of 24 rows, of many one sees more than one. */
const ROWS = { alone: 10, many: 6 } as const

/** A section and what may be said of it. */
export type Seen = {
  readonly part: Subject
  readonly outlook: Outlook
  readonly leftOut: Pick<OneRule, 'leftOut' | 'rules'>
  readonly stands: Standing
  readonly stops: RecentStops
  readonly others: readonly OtherWay[]
}

const bpmIn = (t: Tempo, goal: Tempo): number => toNumber(inUnit(t, goal.unit).bpm)

/** The rungs that the staircase stands on: from the first ceiling to the goal. */
const rungsOf = (part: Subject): readonly number[] => {
  const { goal } = part.music
  const reached = part.log.flatMap(d => d.ceiling ?? [])
  const all = reached[0] ? rungs(slower(reached[0], goal), goal, { kind: 'notch' }) : null
  return all?.ok ? all.value.map(t => toNumber(t.bpm)) : [bpmIn(goal, goal)]
}

const stairsLines = ({ part, outlook }: Seen, today: string, alone: boolean): readonly string[] => {
  const { goal } = part.music
  const days = part.log.flatMap(d => (d.ceiling ? [{ day: d.day, ceiling: bpmIn(d.ceiling, goal) }] : []))
  if (days.length === 0) return []
  const ahead =
    outlook.kind === 'early' || outlook.kind === 'range' ? { low: outlook.low, high: outlook.high } : null
  const rows = alone ? ROWS.alone : ROWS.many
  return [
    ...staircase({ days, rungs: rungsOf(part), today, readyBy: part.readyBy, ahead, rows }, d =>
      dayText(d, today),
    ),
    ...(ahead ? [SIGNS] : []),
  ]
}

/** What was played and what may come are told apart by their strokes. */
const SIGNS = '        solid: played; dotted: what may come, soonest and latest'

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)

const countedOf = ({ part, stands: { takes, secure } }: Seen) => ({
  days: part.log.length,
  minutes: sum(part.log.map(d => d.minutes)),
  clean: sum(part.log.map(d => d.clean)),
  verdicts: sum(part.log.map(d => d.verdicts)),
  takes: takes.length,
  cleanTakes: takes.filter(t => t.clean).length,
  secure: secure && decimal(inUnit(secure, part.music.goal.unit).bpm),
})

const title = (s: Seen): string => {
  const { piece, label, music } = s.part
  const ceiling = s.stands.ceiling
    ? `ceiling ${decimal(inUnit(s.stands.ceiling, music.goal.unit).bpm)}, `
    : ''
  return `${piece.title}, ${label}: ${ceiling}${goalText(music.goal, music.top, isOpen(piece))}`
}

/** "Stops most in m. 43, beat 2: 7 of 12 stops ..."; of the last two weeks first, and in all where that differs. */
const stopLines = ({ all, lately }: RecentStops): readonly string[] => {
  const [ever, recent] = [stopsText(all), stopsText(lately)]
  if (ever === '') return []
  if (ever === recent) return [`${ever.charAt(0).toUpperCase()}${ever.slice(1)}.`]
  return [`Last two weeks: ${recent || 'no stops'}.`, `In all: ${ever}.`]
}

const outlookLine = ({ part, outlook, stands, leftOut }: Seen, today: string): string =>
  [
    outlookText(outlook, today, part.readyBy, stands.ready, part.music.top !== undefined),
    leftOutText(leftOut),
  ]
    .filter(Boolean)
    .join(' ')

/** What a player asks, in that order: how far, what is ahead, where it breaks, and what else was played. */
export const sectionLines = (s: Seen, today: string, alone: boolean): readonly string[] => {
  const judged = s.part.log.length > 0
  return [
    ...wrapped(title(s), COLUMNS, 2),
    ...stairsLines(s, today, alone),
    ...[
      judged || s.stands.takes.length > 0 ? `So far: ${countedText(countedOf(s))}.` : '',
      judged ? outlookLine(s, today) : '',
      ...stopLines(s.stops),
      ...s.others.map(a => `${otherWayText(a, s.part.music.goal, today)}.`),
    ]
      .filter(Boolean)
      .flatMap(line => wrapped(`  ${line}`, COLUMNS, 4)),
  ]
}
