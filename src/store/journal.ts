import type { Body, Event } from '../ladder/event.ts'
import { inOrder } from '../ladder/fold.ts'
import type { Home } from './home.ts'
import { type Codec, logFolder, monthOf, once, openLog, type Records, type Skipped, stamp } from './log.ts'
import { skippedLines, unopenedText } from './log-words.ts'
import { decode, encode } from './record.ts'
import type { Sources } from './sources.ts'
import { StoreError } from './trouble.ts'
import { notOpened } from './words.ts'

export type Journal = {
  /**
   * Stores what happened, in order, all in one visit: a `visit` body, which may only stand first, opens it and makes
   * it the current one; else the current visit is meant, or the one named (opened in this journal).
   * Resolves with the complete events once they are on disk, so that they outlast a power cut.
   * Rejects with StoreError (one sentence) when they are not: then nothing is confirmed, and the next append may
   * succeed; RangeError for events that the reader would not take.
   */
  readonly append: (bodies: readonly Body[], visit?: string) => Promise<readonly Event[]>
  /** Waits for everything handed in so far. */
  readonly close: () => Promise<void>
}

export const JOURNAL: Codec<Event> = {
  name: 'journal',
  cannotWrite: "Can't write the practice journal",
  cannotRead: "Can't read the practice journal",
  encode,
  decode,
}

export const journalFolder = (home: Home): string => logFolder(home, JOURNAL)

/**
 * The journal of this process. All events of a visit stand in the file of the month in which it was opened. Throws
 * StoreError when the folder cannot be written.
 */
export const openJournal = async (home: Home, sources: Sources): Promise<Journal> => {
  const log = await openLog(home, sources, JOURNAL)
  const months = new Map<string, string>()
  let current: string | null = null
  let chain: Promise<unknown> = Promise.resolve()

  const store = async (bodies: readonly Body[], at: ReturnType<typeof stamp>, named: string | undefined) => {
    const opens = bodies[0]?.kind === 'visit'
    const visit = opens ? log.next().id : (named ?? current)
    if (opens) current = null
    const month = opens ? monthOf(at) : visit && months.get(visit)
    if (!visit || !month) throw new StoreError(notOpened(JOURNAL.cannotWrite))
    const events = await log.append(
      month,
      bodies.map((body, i) => ({ ...body, ...log.next(i), visit, ...at })),
    )
    if (opens) {
      months.set(visit, month)
      current = visit
    }
    return events
  }

  return {
    append: async (bodies, visit) => {
      if (bodies.some((body, i) => i > 0 && body.kind === 'visit'))
        throw new RangeError('a visit opens with the first event of an append')
      const at = stamp(sources)
      const stored = chain.then(() => store(bodies, at, visit))
      chain = stored.catch(() => {})
      return stored
    },
    close: async () => {
      await chain
    },
  }
}

/** What a journal holds that did not count. */
export type Uncounted = Skipped & {
  /** Events that cannot be counted because the line that opened their visit is lost. */
  readonly unopened: number
}

/** In order, each event once. */
const settled = (visit: readonly Event[]): readonly Event[] => {
  const ordered = inOrder(visit)
  return ordered.length === visit.length ? ordered : inOrder(once(JOURNAL, visit))
}

/** The events of many files, visit by visit. The same event in two files counts once, whatever the order of the files. */
export const visitsIn = (files: readonly Records<Event>[]): readonly (readonly Event[])[] => {
  const byVisit = new Map<string, Event[]>()
  for (const { records } of files)
    for (const event of records) {
      const known = byVisit.get(event.visit)
      if (known) known.push(event)
      else byVisit.set(event.visit, [event])
    }
  return [...byVisit.values()].map(settled)
}

/** One sentence for each kind of line that was not counted; empty when all is well. */
export const journalNotes = (read: Uncounted): readonly string[] => [
  ...skippedLines(JOURNAL.name, read),
  ...(read.unopened > 0 ? [unopenedText(read.unopened)] : []),
]
