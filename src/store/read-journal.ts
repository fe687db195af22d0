import { readdir } from 'node:fs/promises'
import type { Event } from '../ladder/event.ts'
import { inOrder } from '../ladder/fold.ts'
import { printable } from '../music/result.ts'
import type { Home } from './home.ts'
import { journalFolder } from './journal.ts'
import { readText } from './read-file.ts'
import { type Decoded, decode, encode } from './record.ts'
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

/** What a journal holds that did not count. */
export type Uncounted = Pick<FileEvents, 'damaged' | 'unknown'> & {
  /** Events that cannot be counted because the line that opened their visit is lost. */
  readonly unopened: number
}

export type JournalRead = Uncounted & {
  /** Each visit begins with its opening and is in order of its numbers; visits by the time of their opening. */
  readonly visits: readonly (readonly Event[])[]
}

/** The lines of one file; `each` hears what every line was found to be. Never throws. */
export const parseJournal = (
  text: string,
  file: string,
  each: (found: Decoded, line: string) => void = () => {},
): FileEvents => {
  const events: Event[] = []
  const damaged: Damaged[] = []
  let unknown = 0
  for (const [i, line] of text.split('\n').entries()) {
    if (line.trim() === '') continue
    const found = decode(line)
    each(found, line)
    if (found === 'damaged') damaged.push({ file: printable(file), line: i + 1 })
    else if (found === 'newer') unknown++
    else events.push(found)
  }
  return { events, damaged, unknown }
}

type Opened = { readonly time: string; readonly id: string }

/** Visits by the time of their opening; of two at the same time, by its id. */
export const byOpening = (a: Opened, b: Opened): number =>
  a.time < b.time || (a.time === b.time && a.id < b.id) ? -1 : 1

/** In order, each event once; if damage gives two events one id, the first in the alphabet counts everywhere. */
const settled = (visit: readonly Event[]): readonly Event[] => {
  const ordered = inOrder(visit)
  return ordered.length === visit.length
    ? ordered
    : inOrder([...visit].sort((a, b) => (encode(a) < encode(b) ? -1 : 1)))
}

/** The events of many files, visit by visit. The same event in two files counts once, whatever the order of the files. */
export const visitsIn = (files: readonly FileEvents[]): readonly (readonly Event[])[] => {
  const byVisit = new Map<string, Event[]>()
  for (const { events } of files)
    for (const event of events) {
      const known = byVisit.get(event.visit)
      if (known) known.push(event)
      else byVisit.set(event.visit, [event])
    }
  return [...byVisit.values()].map(settled)
}

/** Many files as one journal. */
export const gather = (files: readonly FileEvents[]): JournalRead => {
  const all = visitsIn(files)
  return {
    visits: all
      .filter(visit => visit[0]?.k === 'visit')
      .sort((a, b) => byOpening(a[0] as Event, b[0] as Event)),
    damaged: files.flatMap(f => f.damaged),
    unknown: files.reduce((sum, f) => sum + f.unknown, 0),
    unopened: all.filter(visit => visit[0]?.k !== 'visit').reduce((sum, visit) => sum + visit.length, 0),
  }
}

/**
 * The names of all `.jsonl` files below the journal folder: of all machines, and copies that a sync tool left. Throws
 * StoreError when the folder cannot be read.
 */
export const journalFiles = async (home: Home): Promise<readonly string[]> => {
  const folder = journalFolder(home)
  try {
    const names = await readdir(folder, { recursive: true })
    return names.filter(name => /\.jsonl$/i.test(name)).sort()
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return []
    throw trouble('The practice journal cannot be read', folder, error)
  }
}

/** One file, or as damaged as a whole when it cannot be read. */
export const readOne = async (path: string): Promise<FileEvents> => {
  try {
    return parseJournal(await readText(path), path)
  } catch {
    return { events: [], damaged: [{ file: printable(path), line: 0 }], unknown: 0 }
  }
}

const lines = (n: number): string => (n === 1 ? '1 line' : `${n} lines`)

/** One sentence for each kind of line that was not counted; empty when all is well. */
export const journalNotes = (read: Uncounted): readonly string[] => {
  const notes: string[] = []
  const [first] = read.damaged
  if (first) {
    const where =
      first.line === 0 ? `${first.file}, which can't be read as a file` : `${first.file}, line ${first.line}`
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
