import type { Context, Outcome } from '../app/context.ts'
import { instantOf, readNow, todayOf } from '../app/now.ts'
import { repertoireOf } from '../app/repertoire-rows.ts'
import { writeFiles } from '../app/write-files.ts'
import { markdownText, plainText } from '../files/page.ts'
import { parseDay } from '../music/day-words.ts'
import { problem } from '../music/result.ts'
import { aboutOf, lettersIn, noteText } from '../plan/note-words.ts'
import {
  dayOf,
  keysOf,
  othersOf,
  partsOf,
  passageLabel,
  playedIn,
  sectionStops,
} from '../plan/report-figures.ts'
import { placeJson, stopRows, stopsJson, within } from '../plan/stops.ts'
import { findPiece } from '../repertoire/find-piece.ts'
import { type Note, noteDay } from '../repertoire/note.ts'
import { ifSaid, must } from './command.ts'
import type { Typed } from './commands.ts'
import { type Report, reportPage } from './report-page.ts'

const KINDS = { md: markdownText, txt: plainText } as const

const writerOf = (out: string) => {
  const [kind] = Object.entries(KINDS).find(([k]) => out.toLowerCase().endsWith(`.${k}`)) ?? []
  return kind
    ? KINDS[kind as keyof typeof KINDS]
    : must<never>(problem('--out', out, 'a file that ends in .md or .txt'))
}

const partJson = ({ goal, top, ceiling, secure, first, ...p }: Report['parts'][number]) => {
  return { ...p, goal, goalTop: top ?? null, ceiling, secure, first }
}

/** The report for programs: the same figures, without the player's own notes unless they were asked for. */
const reportJson = (r: Report) => ({
  title: r.title,
  period: r.period,
  daysPlayed: r.daysPlayed,
  minutes: r.minutes,
  sections: r.parts.map(partJson),
  others: r.others,
  broken: r.recent.map(b => ({ label: b.label, all: stopsJson(b.all), lately: stopsJson(b.lately) })),
  breaks: r.breaks.map(placeJson),
  questions: r.questions,
  ...(r.notes === null ? {} : { notes: r.notes }),
  ahead: r.rows.map(row => ({ passage: row.place, readyBy: row.readyBy, days: row.days })),
})

/** A page for a lesson about a piece, or about one of its passages; to a file, or as plain text. */
export const reportCommand = async (ctx: Context, name: string, t: Typed<'report'>): Promise<Outcome> => {
  const today = todayOf(ctx)
  const write = t.out === undefined ? plainText : writerOf(t.out)
  const typedFrom = ifSaid(t.from, s => parseDay(s, '--from', { to: today }))
  const now = await readNow(ctx)
  const { rows, notes: unread } = repertoireOf(ctx, now)
  const all = now.practiced
  const found = must(findPiece(now.kept, name, false, unread))
  const { piece } = found.in
  const passages = found.passage ? [found.passage] : piece.passages
  const mine = keysOf(passages)
  const visits = all.visits.filter(v => mine(v.key) && dayOf(v) <= today)
  const from =
    typedFrom ??
    visits
      .filter(v => v.played > 0)
      .map(dayOf)
      .sort()[0] ??
    today
  const period = { from, to: today }
  const inside = visits.filter(v => within(period, dayOf(v)))
  const parts = partsOf(all, piece, passages, period, instantOf(ctx))
  const { days, seconds } = playedIn(inside)

  const ours = (n: Note): boolean =>
    n.key !== undefined ? mine(n.key) : n.piece === undefined || n.piece === piece.id
  // A question is asked although nothing was played since.
  const notes = now.notes.filter(n => ours(n) && within({ from: typedFrom ?? '', to: today }, noteDay(n)))
  const about = aboutOf([piece])
  const said = (n: Note, text: string): string => `${text}${about(n) === '' ? '' : ` (${about(n)})`}`
  const wrongs = notes.flatMap(n => (n.kind === 'wrong' && n.key !== undefined && mine(n.key) ? [n] : []))
  const own = notes.filter(n => n.kind !== 'teacher')
  const report: Report = {
    title: found.passage ? `${piece.title}, ${found.passage.name}` : piece.title,
    today,
    period,
    daysPlayed: days,
    minutes: Math.round(seconds / 60),
    parts,
    others: othersOf(inside, piece, parts),
    recent: sectionStops(passages, inside, wrongs, today),
    breaks: stopRows(
      inside.filter(v => v.stops.length > 0),
      wrongs.filter(n => n.place !== undefined),
      passageLabel(piece),
      lettersIn([piece]),
    ),
    questions: notes.filter(n => n.kind === 'teacher').map(n => said(n, n.text)),
    notes: t.withNotes ? own.map(n => said(n, noteText(n, lettersIn([piece])))) : null,
    rows: passages.flatMap(p => rows.filter(r => r.id === p.id)),
  }
  const page = write(reportPage(report))
  const { trouble } = now
  if (t.out === undefined)
    return { lines: [...page.trimEnd().split('\n'), ...trouble], json: { ...reportJson(report), trouble } }
  await writeFiles([{ path: t.out, chunks: [page] }])
  return {
    lines: [`${t.out}: a page about ${report.title}.`, ...trouble],
    json: { file: t.out, ...reportJson(report), trouble },
  }
}
