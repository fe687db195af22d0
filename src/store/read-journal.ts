import { readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Event } from '../ladder/event.ts'
import { inOrder } from '../ladder/fold.ts'
import { printable } from '../music/result.ts'
import type { Home } from './home.ts'
import { journalFolder } from './journal.ts'
import { decode } from './record.ts'
import { codeOf, trouble } from './trouble.ts'

/** A line that could not be understood; line 0 = the file as a whole could not be read. */
export type Damaged = { readonly file: string; readonly line: number }

/** What one file holds, on its own: nothing here depends on another file. */
export type FileEvents = {
  readonly events: readonly Event[]
  readonly damaged: readonly Damaged[]
  /** Lines of a newer version, or of a kind that is not known here. */
  readonly unknown: number
}

export type JournalRead = {
  /** Each visit begins with its opening and is in order of its numbers; visits by the time of their opening. */
  readonly visits: readonly (readonly Event[])[]
  readonly damaged: readonly Damaged[]
  readonly unknown: number
  /** Events that cannot be counted because the line that opened their visit is lost. */
  readonly unopened: number
}

/** The lines of one file. Never throws. */
export const parseJournal = (text: string, file: string): FileEvents => {
  const events: Event[] = []
  const damaged: Damaged[] = []
  let unknown = 0
  for (const [i, line] of text.split('\n').entries()) {
    if (line.trim() === '') continue
    const found = decode(line)
    if (found === 'damaged') damaged.push({ file: printable(file), line: i + 1 })
    else if (found === 'newer') unknown++
    else events.push(found)
  }
  return { events, damaged, unknown }
}

/** Many files as one journal: the same event in two files counts once, whatever the order of the files. */
export const gather = (files: readonly FileEvents[]): JournalRead => {
  const byVisit = new Map<string, Event[]>()
  for (const event of files.flatMap(f => f.events)) {
    const known = byVisit.get(event.visit)
    if (known) known.push(event)
    else byVisit.set(event.visit, [event])
  }
  const all = [...byVisit.values()].map(inOrder)
  const opened = all.filter(visit => visit[0]?.k === 'visit')
  const label = (visit: readonly Event[]): string => `${visit[0]?.time} ${visit[0]?.id}`
  return {
    visits: opened.sort((a, b) => (label(a) < label(b) ? -1 : 1)),
    damaged: files.flatMap(f => f.damaged),
    unknown: files.reduce((sum, f) => sum + f.unknown, 0),
    unopened: all.filter(visit => visit[0]?.k !== 'visit').reduce((sum, visit) => sum + visit.length, 0),
  }
}

/** Every `.jsonl` below the journal folder: all machines, and copies that a sync tool left. */
const journalFiles = async (home: Home): Promise<readonly string[]> => {
  const folder = journalFolder(home)
  try {
    const names = await readdir(folder, { recursive: true })
    return names
      .filter(name => /\.jsonl$/i.test(name))
      .sort()
      .map(name => join(folder, name))
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return []
    throw trouble('The practice journal cannot be read', folder, error)
  }
}

const readOne = async (path: string): Promise<FileEvents> => {
  try {
    return parseJournal(await readFile(path, 'utf8'), path)
  } catch {
    return { events: [], damaged: [{ file: printable(path), line: 0 }], unknown: 0 }
  }
}

/** All that was ever practiced, from all machines. Throws StoreError when the folder itself cannot be read. */
export const readJournal = async (home: Home): Promise<JournalRead> => {
  const files: FileEvents[] = []
  for (const path of await journalFiles(home)) files.push(await readOne(path))
  return gather(files)
}

const lines = (n: number): string => (n === 1 ? '1 line' : `${n} lines`)

/** One sentence for each kind of line that was not counted; empty when all is well. */
export const journalNotes = (read: JournalRead): readonly string[] => {
  const notes: string[] = []
  const [first] = read.damaged
  if (first) {
    const where = first.line === 0 ? first.file : `${first.file}, line ${first.line}`
    const count = read.damaged.length
    notes.push(
      count === 1
        ? `The journal has a damaged place that was skipped: ${where}.`
        : `The journal has ${count} damaged places that were skipped; the first: ${where}.`,
    )
  }
  if (read.unknown > 0)
    notes.push(
      `${lines(read.unknown)} of the journal came from a newer Gradino and did not count here; nothing is lost.`,
    )
  if (read.unopened > 0)
    notes.push(`${lines(read.unopened)} of the journal did not count: the opening of their visit is lost.`)
  return notes
}
