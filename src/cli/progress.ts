import type { Context, Outcome } from '../app/context.ts'
import { instantOf, type Practiced, readNow, todayOf } from '../app/now.ts'
import { standing } from '../ladder/standing.ts'
import { dayAt, type Instant } from '../music/day.ts'
import { typed } from '../music/tempo.ts'
import { otherWayJson, otherWays } from '../plan/other-ways.ts'
import { byOneRule, outlookOf } from '../plan/outlook.ts'
import { stopsIn, stopsJson } from '../plan/stops.ts'
import { partsOf, rungsAbove, type Subject } from '../plan/works.ts'
import { findPiece } from '../repertoire/find-piece.ts'
import type { Note } from '../repertoire/note.ts'
import { wrapped } from '../screens/today/wrap.ts'
import { offerLine, offersOf } from '../visit/joining.ts'
import { COLUMNS, type Seen, sectionLines } from './progress-lines.ts'
import { must } from './stop.ts'

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
  goal: typed(s.part.music.goal),
  goalTop: s.part.music.top ? typed(s.part.music.top) : null,
  ceiling: s.stands.ceiling && typed(s.stands.ceiling),
  secure: s.stands.secure && typed(s.stands.secure),
  ready: s.stands.ready,
  readyBy: s.part.readyBy,
  days: s.part.log.map(({ reached, ...d }) => ({
    ...d,
    minutes: Math.round(d.minutes * 10) / 10,
    best: d.best && typed(d.best),
    ceiling: d.ceiling && typed(d.ceiling),
    rules: reached.map(r => ({ rule: r.rule, best: typed(r.best) })),
  })),
  coldTakes: s.stands.takes.map(t => ({ ...t, tempo: typed(t.tempo) })),
  outlook: s.outlook,
  leftOut: { days: s.leftOut.leftOut, rules: s.leftOut.rules },
  breaks: { all: stopsJson(s.stops.all), lately: stopsJson(s.stops.lately) },
  also: s.others.map(otherWayJson),
})

const EMPTY = 'You have no pieces yet. A first passage: gradino piece add TITLE --in 41-44 --goal 120'

/** How each section climbed, and what may come: of all that is there, a piece, a passage or a section. */
export const progressCommand = async (ctx: Context, name: string | undefined): Promise<Outcome> => {
  const today = todayOf(ctx)
  const { practiced: all, kept, damaged, notes: noted, trouble: notes } = await readNow(ctx)
  const found = name === undefined ? null : must(findPiece(kept, name, true, damaged))
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
      ...(parts.length === 0 ? [EMPTY] : []),
      ...practiced.flatMap((s, i) => [...(i > 0 ? [''] : []), ...sectionLines(s, today, alone)]),
      ...joins,
      ...(practiced.length > 0 && waiting.length > 0 ? [''] : []),
      ...waiting,
      ...notes,
    ],
    json: { today, sections: parts.map(json), notes },
  }
}
