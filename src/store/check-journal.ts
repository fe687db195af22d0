import { rm } from 'node:fs/promises'
import { join } from 'node:path'
import { isDeepStrictEqual } from 'node:util'
import { printable } from '../music/result.ts'
import type { FileSummary } from './file-summary.ts'
import type { Home } from './home.ts'
import { JOURNAL, journalFolder, type Uncounted } from './journal.ts'
import { logFiles } from './log.ts'
import { numberOf } from './record.ts'
import { foldFile, practiceOf, readSnapshot, snapshotFile } from './snapshot.ts'

/** What reading every line of every file has shown. */
export type JournalCheck = Uncounted & {
  readonly files: number
  readonly lines: number
  readonly visits: number
  /** Visits that stand in more than one file, and count once. */
  readonly twice: number
  /** Numbers that a session has used and no file holds, by the file in which the session begins. */
  readonly missing: readonly { readonly file: string; readonly lines: number }[]
  /** Whether the snapshot says what the files say; one that does not was deleted. */
  readonly snapshot: 'none' | 'agrees' | 'differed'
}

/** The numbers that were found of one start of the program; they begin with 1 and have no gaps. */
type Session = { readonly file: string; readonly seen: Set<number>; highest: number }

const missingIn = (sessions: Iterable<Session>): JournalCheck['missing'] => {
  const byFile = new Map<string, number>()
  for (const { file, seen, highest } of sessions)
    if (seen.size < highest) byFile.set(file, (byFile.get(file) ?? 0) + highest - seen.size)
  return [...byFile].map(([file, lines]) => ({ file, lines }))
}

/** The files that the snapshot would vouch for, although they come to something else. */
const differing = (known: ReadonlyMap<string, FileSummary>, files: readonly FileSummary[]) =>
  files.filter(f => {
    const k = known.get(f.file)
    return k && k.size === f.size && k.end === f.end && !isDeepStrictEqual(k, f)
  })

/**
 * Reads all of the journal without the snapshot and compares. Throws StoreError when the folder cannot be read. What is
 * lost at the very end of a session leaves no trace; that no check can find.
 */
export const checkJournal = async (home: Home): Promise<JournalCheck> => {
  const place = (file: string): string => join(journalFolder(home), file)
  const sessions = new Map<string, Session>()
  let lines = 0
  const files: FileSummary[] = []
  for (const file of await logFiles(home, JOURNAL)) {
    const note = (line: string): void => {
      lines++
      const id = numberOf(line)
      if (!id) return
      const known = sessions.get(id.session) ?? { file: printable(place(file)), seen: new Set(), highest: 0 }
      known.seen.add(id.n)
      known.highest = Math.max(known.highest, id.n)
      sessions.set(id.session, known)
    }
    files.push(await foldFile(home, file, (found, line) => found !== 'damaged' && note(line)))
  }
  const known = await readSnapshot(home)
  const differ = differing(known, files)
  if (differ.length > 0) await rm(snapshotFile(home), { force: true })
  const { visits, damaged, unknown, unopened } = await practiceOf(home, files)
  const rows = files.flatMap(f => f.rows)
  return {
    files: files.length,
    lines,
    visits: visits.length,
    twice: rows.length - new Set(rows.map(r => r.id)).size,
    missing: missingIn(sessions.values()),
    snapshot: differ.length > 0 ? 'differed' : known.size > 0 ? 'agrees' : 'none',
    damaged,
    unknown,
    unopened,
  }
}
