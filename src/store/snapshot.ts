import { join } from 'node:path'
import { writeDurably } from './durable.ts'
import {
  clashes,
  type Each,
  endFrom,
  type FileSummary,
  hashOf,
  type Practice,
  summarize,
  together,
} from './file-summary.ts'
import { ensureFolder, type Home } from './home.ts'
import { JOURNAL, journalFolder, visitsIn } from './journal.ts'
import { logFiles, readLogFile } from './log.ts'
import { openFile, readBytes, readText } from './read-file.ts'
import { parseSnapshot, snapshotText } from './snapshot-text.ts'

/** Bytes of journal that take about as long to fold as a snapshot takes to write. */
const WORTH = 2_000_000

/**
 * What every journal file came to when it was last folded. It spares reading ten years at every start, and nothing
 * else: with it, without it and with a damaged one the answers are the same. Deleting it is always safe.
 */
export const snapshotFile = (home: Home): string => join(home.cache, 'journal-snapshot')

/** The files of the snapshot by name; none where it cannot be used. */
export const readSnapshot = async (home: Home): Promise<ReadonlyMap<string, FileSummary>> => {
  const text = await readText(snapshotFile(home)).catch(() => '')
  return new Map(parseSnapshot(text)?.map(f => [f.file, f]))
}

/** Where it cannot be kept, the next start takes longer, and that is all. */
const writeSnapshot = async (home: Home, files: readonly FileSummary[]): Promise<void> => {
  try {
    await ensureFolder(home.cache, "Can't write the snapshot of the journal")
    await writeDurably(snapshotFile(home), snapshotText(files.filter(f => f.size >= 0)))
  } catch {}
}

/** Size and end are those that were folded. The time of a file is not asked: sync tools set it as they like. */
const unchanged = async (path: string, known: FileSummary): Promise<boolean> => {
  const { handle, size } = await openFile(path)
  try {
    if (size !== known.size) return false
    const from = endFrom(size)
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(size - from), 0, size - from, from)
    return hashOf(buffer.subarray(0, bytesRead)) === known.end
  } finally {
    await handle.close()
  }
}

/** One file as it is now; `each` hears what every line was found to be. */
export const foldFile = async (home: Home, file: string, each?: Each): Promise<FileSummary> => {
  const bytes = await readBytes(join(journalFolder(home), file)).catch(() => undefined)
  return bytes
    ? summarize(bytes, file, each)
    : { file, size: -1, end: '', rows: [], damaged: [0], unknown: 0 }
}

/** Files as one practice; those that disagree about a visit are read once more for it. */
export const practiceOf = async (home: Home, files: readonly FileSummary[]): Promise<Practice> => {
  const place = (file: string): string => join(journalFolder(home), file)
  const unclear = clashes(files)
  const concerned = files.filter(f => unclear.size > 0 && f.rows.some(r => unclear.has(r.id)))
  const lines = []
  for (const { file } of concerned) {
    const read = await readLogFile(JOURNAL, place(file))
    lines.push({ ...read, records: read.records.filter(e => unclear.has(e.visit)) })
  }
  return together(files, visitsIn(lines), place)
}

/** All files; those that are as they are known are not folded again. Throws StoreError when the folder cannot be read. */
export const foldFiles = async (
  home: Home,
  known: ReadonlyMap<string, FileSummary>,
): Promise<readonly FileSummary[]> => {
  const names = await logFiles(home, JOURNAL)
  const same = await Promise.all(
    names.map(async file => {
      const one = known.get(file)
      return one && (await unchanged(join(journalFolder(home), file), one).catch(() => false)) ? one : null
    }),
  )
  // One at a time: ten years at once would fill the memory.
  const files: FileSummary[] = []
  for (const [i, file] of names.entries()) files.push(same[i] ?? (await foldFile(home, file)))
  return files
}

/**
 * All that was ever practiced, from all machines, with the help of the snapshot; it is written anew when `worth` bytes
 * or more had to be folded. Throws StoreError when the journal folder cannot be read.
 */
export const readPractice = async (home: Home, worth = WORTH): Promise<Practice> => {
  const known = await readSnapshot(home)
  const files = await foldFiles(home, known)
  const folded = files.filter(f => known.get(f.file) !== f)
  if (folded.reduce((sum, f) => sum + f.size, 0) >= worth) await writeSnapshot(home, files)
  return practiceOf(home, files)
}
