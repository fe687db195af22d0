import type { Context, Outcome } from '../app/context.ts'
import { readNow, todayOf } from '../app/now.ts'
import { writeFiles } from '../app/write-files.ts'
import { csvText } from '../files/csv.ts'
import { mondayOf } from '../music/day.ts'
import { dayText, parseDay } from '../music/day-words.ts'
import { toNumber } from '../music/fraction.ts'
import { problem } from '../music/result.ts'
import { quarters, typed } from '../music/tempo.ts'
import { count } from '../music/words.ts'
import { type Day, daysOf, type Sums, weeksOf } from '../plan/diary-days.ts'
import { diaryLines, minutesOf } from '../plan/diary-words.ts'
import { namesOf, type PracticedName } from '../plan/practiced-names.ts'
import { checkJournal, type JournalCheck } from '../store/check-journal.ts'
import { removedPieces, repertoire } from '../store/repertoire.ts'
import { ifSaid, must } from './command.ts'
import type { Typed } from './commands.ts'

/** So many places are named one by one. */
const NAMED = 20

const n = (count: number, one: string, many = `${one}s`): string =>
  `${count.toLocaleString('en-US')} ${count === 1 ? one : many}`

const damagedLines = ({ damaged }: JournalCheck): readonly string[] => [
  ...damaged
    .slice(0, NAMED)
    .map(d =>
      d.line === 0
        ? `Cannot be read: ${d.file}.`
        : `Damaged: ${d.file}, line ${d.line}. It is skipped; the lines around it count.`,
    ),
  ...(damaged.length > NAMED ? [`And ${n(damaged.length - NAMED, 'more damaged line')}.`] : []),
]

const missingLines = ({ missing }: JournalCheck): readonly string[] => [
  ...missing
    .slice(0, NAMED)
    .map(
      m =>
        `Missing: ${n(m.lines, 'line')} of practice that began in ${m.file}. The row starts again after the gap; no ceiling was made up.`,
    ),
  ...(missing.length > NAMED ? [`And gaps in ${n(missing.length - NAMED, 'more file')}.`] : []),
]

const SNAPSHOT: Readonly<Record<JournalCheck['snapshot'], string>> = {
  none: 'There is no snapshot; all answers come from the files.',
  agrees: 'With the snapshot the answers are the same as without it.',
  differed:
    "Lines that were already written have changed, and the snapshot didn't notice. It was deleted, and the answers come from the files again.",
}

/** Reads every line of every file; status 1 when something is damaged or missing. */
const checked = async (ctx: Context): Promise<Outcome> => {
  const [check, pieces] = await Promise.all([checkJournal(ctx.home), repertoire(ctx.home).list()])
  const harmed =
    check.damaged.length > 0 ||
    check.missing.length > 0 ||
    check.unopened > 0 ||
    check.snapshot === 'differed' ||
    pieces.notes.length > 0
  const lines = [
    `${n(check.files, 'journal file')}, ${n(check.lines, 'line')}, ${n(check.visits, 'visit')}; ${n(pieces.pieces.length, 'piece')}.`,
    ...damagedLines(check),
    ...missingLines(check),
    ...(check.unopened > 0
      ? [`Not counted: ${n(check.unopened, 'line')}, because the opening of their visit is lost.`]
      : []),
    ...(check.unknown > 0
      ? [`${n(check.unknown, 'line')} came from a newer Gradino and wait for it; nothing is lost.`]
      : []),
    ...(check.twice > 0
      ? [`Copies of ${n(check.twice, 'visit')} are in other files too; each visit counts once.`]
      : []),
    SNAPSHOT[check.snapshot],
    ...pieces.notes,
    harmed ? 'Everything else is as it was written.' : 'Everything is as it was written.',
  ]
  return { status: harmed ? 1 : 0, lines, json: { clean: !harmed, ...check, pieces: pieces.notes } }
}

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
    ceiling: e.ceiling,
    before: e.before,
    goal: e.goal,
  })),
})

/** What was practiced: this week, or from a day on; with `--csv` as a table, of everything where no day is named. */
export const diaryCommand = async (ctx: Context, t: Typed<'diary'>): Promise<Outcome> => {
  if (t.check) {
    if (t.csv !== undefined || t.from !== undefined)
      must(problem(t.csv !== undefined ? '--csv' : '--from', '--check', '--check alone: it reads all files'))
    return checked(ctx)
  }
  const today = todayOf(ctx)
  const typedFrom = ifSaid(t.from, s => parseDay(s, '--from', { to: today }))
  const [{ practiced: all, kept }, removed] = await Promise.all([readNow(ctx), removedPieces(ctx.home)])
  // What is there now names a key before what was removed.
  const name = namesOf([...removed, ...kept.map(k => k.piece)])
  const days = daysOf(all.visits)
  if (t.csv !== undefined) {
    const table = days.filter(d => d.date >= (typedFrom ?? ''))
    await writeFiles([{ path: t.csv, chunks: [csvOf(table, name)] }])
    const rows = table.reduce((n, d) => n + d.entries.length, 0)
    return {
      lines: [`${t.csv}: ${count(rows, 'line')} under the heading.`, ...all.notes],
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
