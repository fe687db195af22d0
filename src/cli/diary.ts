import type { Context, Outcome } from '../app/context.ts'
import { readNow, todayOf } from '../app/now.ts'
import { writeFiles } from '../app/write-files.ts'
import { csvText } from '../files/csv.ts'
import { mondayOf } from '../music/day.ts'
import { dayText, parseDay } from '../music/day-words.ts'
import { toNumber } from '../music/fraction.ts'
import { problem } from '../music/result.ts'
import { quarters, typed } from '../music/tempo.ts'
import { type Day, daysOf, type Sums, weeksOf } from '../plan/diary-days.ts'
import { diaryLines, minutesOf } from '../plan/diary-words.ts'
import { namesOf, type PracticedName } from '../plan/practiced-names.ts'
import { removedPieces } from '../store/removed-pieces.ts'
import { must } from './stop.ts'

export type DiaryTyped = { readonly from?: string; readonly csv?: string; readonly check?: boolean }

type Names = (key: string) => PracticedName

/** Clean verdicts in all verdicts, to the hundredth; null where nothing was judged. */
const share = (s: Sums): number | null =>
  s.verdicts === 0 ? null : Math.round((100 * s.clean) / s.verdicts) / 100

const HEAD =
  'date,piece,passage,section,rhythm,ladder,take,minutes,visits,repetitions,verdicts,clean,clean share,new ceiling,new ceiling in quarters a minute,goal reached'

const csvOf = (days: readonly Day[], name: Names): string =>
  csvText(
    HEAD.split(','),
    days.flatMap(d =>
      d.entries.map(e => {
        const n = name(e.key)
        return [
          ...[d.date, n.piece, n.passage, n.section, n.rhythm, n.ladder, n.take],
          ...[Math.round(e.seconds / 6) / 10, e.visits, e.repetitions, e.verdicts, e.clean, share(e)],
          e.ceiling && typed(e.ceiling),
          e.ceiling && Math.round(toNumber(quarters(e.ceiling)) * 100) / 100,
          e.goal && !n.take ? 'yes' : 'no',
        ]
      }),
    ),
  )

const sumsJson = (s: Sums) => ({
  minutes: minutesOf(s.seconds),
  visits: s.visits,
  repetitions: s.repetitions,
  verdicts: s.verdicts,
  clean: s.clean,
  cleanShare: share(s),
})

const dayJson = (d: Day, name: Names) => ({
  date: d.date,
  ...sumsJson(d),
  practiced: d.entries.map(e => ({
    key: e.key,
    ...name(e.key),
    ...sumsJson(e),
    ceiling: e.ceiling && typed(e.ceiling),
    before: e.before && typed(e.before),
    goal: e.goal,
  })),
})

/** What was practiced: this week, or from a day on; with `--csv` as a table, of everything where no day is named. */
export const diaryCommand = async (ctx: Context, t: DiaryTyped): Promise<Outcome> => {
  if (t.check) {
    if (t.csv !== undefined || t.from !== undefined)
      must(problem(t.csv !== undefined ? '--csv' : '--from', '--check', '--check alone: it reads all files'))
    return (await import('./diary-check.ts')).checkCommand(ctx)
  }
  const today = todayOf(ctx)
  const typedFrom = t.from === undefined ? null : must(parseDay(t.from, '--from', { to: today }))
  const [{ practiced: all, kept }, removed] = await Promise.all([readNow(ctx), removedPieces(ctx.home)])
  // What is there now names a key before what was removed.
  const name = namesOf([...removed, ...kept.map(k => k.piece)])
  const days = daysOf(all.visits)
  if (t.csv !== undefined) {
    const table = days.filter(d => typedFrom === null || d.date >= typedFrom)
    await writeFiles([{ path: t.csv, chunks: [csvOf(table, name)] }])
    const rows = table.reduce((n, d) => n + d.entries.length, 0)
    return {
      lines: [`${t.csv}: ${rows === 1 ? '1 line' : `${rows} lines`} under the heading.`, ...all.notes],
      json: { file: t.csv, rows, notes: all.notes },
    }
  }
  const from = typedFrom ?? mondayOf(today)
  const weeks = weeksOf(days, from, today)
  return {
    lines: [
      ...(weeks.length > 0
        ? diaryLines(weeks, today, name)
        : [`Nothing played from ${dayText(from, today)} on.`]),
      ...all.notes,
    ],
    json: {
      from,
      today,
      weeks: weeks.map(w => ({
        from: w.from,
        to: w.to,
        days: w.length,
        played: w.days.length,
        minutes: minutesOf(w.seconds),
      })),
      days: weeks.flatMap(w => w.days.map(d => dayJson(d, name))),
      notes: all.notes,
    },
  }
}
