import type { Context, Outcome } from '../app/context.ts'
import { checkJournal, type JournalCheck } from '../store/check-journal.ts'
import { repertoire } from '../store/repertoire.ts'

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
export const checkCommand = async (ctx: Context): Promise<Outcome> => {
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
