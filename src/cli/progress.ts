import type { Context, Outcome } from '../app/context.ts'
import { instantOf, type Practiced, readNow, todayOf } from '../app/now.ts'
import { rungs } from '../ladder/rungs.ts'
import { type Standing, standing } from '../ladder/standing.ts'
import { dayAt, type Instant } from '../music/day.ts'
import { dayText } from '../music/day-words.ts'
import { decimal, toNumber } from '../music/fraction.ts'
import { goalText, inUnit, slower, type Tempo } from '../music/tempo.ts'
import { type OtherWay, otherWayJson, otherWays, otherWayText } from '../plan/other-ways.ts'
import { byOneRule, type OneRule, type Outlook, outlookOf } from '../plan/outlook.ts'
import { type RecentStops, stopsIn, stopsJson, stopsText } from '../plan/stops.ts'
import { partsOf, rungsAbove, type Subject } from '../plan/works.ts'
import { findPiece } from '../repertoire/find-piece.ts'
import type { Note } from '../repertoire/note.ts'
import { isOpen } from '../repertoire/piece.ts'
import { staircase } from '../screens/progress/staircase.ts'
import { countedText, leftOutText, outlookText } from '../screens/progress/words.ts'
import { wrapped } from '../screens/text-rows.ts'
import { offerLine, offersOf } from '../visit/joining.ts'
import { ifSaid } from './command.ts'
import { NO_PIECES } from './pieces.ts'

const COLUMNS = 80

/** Rungs in the picture: a section that is looked at alone fits a screen of 24 rows, of many one sees more than one. */
const ROWS = { alone: 10, many: 6 } as const

/** A section and what may be said of it. */
type Seen = {
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
const sectionLines = (s: Seen, today: string, alone: boolean): readonly string[] => {
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

const seen = (all: Practiced, notes: readonly Note[], part: Subject, now: Instant, alone: boolean): Seen => {
  const today = dayAt(now)
  const stands = standing(part.ladder, all, now)
  const line = byOneRule(part.log, today)
  return {
    part,
    stands,
    outlook: outlookOf({
      days: line.days,
      goal: stands.goal,
      direction: part.ladder.direction,
      ceiling: stands.ceiling,
      rungs: rungsAbove(part),
      today,
      readyBy: part.readyBy,
      week: all.week,
    }),
    leftOut: line,
    stops: stopsIn(part, all.visits, notes, today),
    others: otherWays(all, part, alone),
  }
}

const json = (s: Seen) => ({
  key: s.part.ladder.key,
  piece: s.part.piece.title,
  passage: s.part.passage.name,
  section: s.part.section?.name ?? null,
  goal: s.part.music.goal,
  goalTop: s.part.music.top ?? null,
  ceiling: s.stands.ceiling,
  secure: s.stands.secure,
  ready: s.stands.ready,
  readyBy: s.part.readyBy,
  days: s.part.log.map(({ reached, ...d }) => ({
    ...d,
    minutes: Math.round(d.minutes * 10) / 10,
    rules: reached.map(({ rule, best }) => ({ rule, best })),
  })),
  coldTakes: s.stands.takes,
  outlook: s.outlook,
  leftOut: { days: s.leftOut.leftOut, rules: s.leftOut.rules },
  breaks: { all: stopsJson(s.stops.all), lately: stopsJson(s.stops.lately) },
  also: s.others.map(otherWayJson),
})

/** How each section climbed, and what may come: of all that is there, a piece, a passage or a section. */
export const progressCommand = async (ctx: Context, name: string | undefined): Promise<Outcome> => {
  const today = todayOf(ctx)
  const { practiced: all, kept, damaged, notes: noted, trouble: notes } = await readNow(ctx)
  const found = ifSaid(name, n => findPiece(kept, n, true, damaged))
  const asked = (p: Subject): boolean =>
    !found ||
    (p.piece === found.in.piece &&
      (!found.passage || p.passage === found.passage) &&
      (!found.section || p.section === found.section))
  const chosen = partsOf(
    all,
    kept.map(k => k.piece),
  ).filter(asked)
  const alone = chosen.filter(p => p.log.length > 0).length <= 1
  const parts = chosen.map(p => seen(all, noted, p, instantOf(ctx), chosen.length === 1))
  const practiced = parts.filter(
    s => s.part.log.length > 0 || s.stands.takes.length > 0 || s.others.length > 0,
  )
  // A passage whose sections are practiced is not missed as a whole.
  const untouched = parts.filter(
    s => !practiced.includes(s) && (s.part.section || !s.part.passage.sections?.length),
  )
  const waiting =
    untouched.length === 0
      ? []
      : wrapped(
          `Not practiced yet: ${untouched.map(s => `${s.part.piece.title}, ${s.part.label}`).join('; ')}.`,
          COLUMNS,
          2,
        )
  const joins = parts.flatMap(({ part: p }) =>
    p.section
      ? []
      : offersOf(all, p.piece, p.passage, today)
          .slice(0, 1)
          .map(o => offerLine(o, true)),
  )
  return {
    lines: [
      ...(parts.length === 0 ? [NO_PIECES] : []),
      ...practiced.flatMap((s, i) => [...(i > 0 ? [''] : []), ...sectionLines(s, today, alone)]),
      ...joins,
      ...(practiced.length > 0 && waiting.length > 0 ? [''] : []),
      ...waiting,
      ...notes,
    ],
    json: { today, sections: parts.map(json), notes },
  }
}
