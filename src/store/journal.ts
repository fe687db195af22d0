import { dirname, join } from 'node:path'
import type { Body, Event } from '../ladder/event.ts'
import { localDay } from '../music/day.ts'
import { newName } from '../repertoire/names.ts'
import { appendLines } from './append-lines.ts'
import { syncFolder } from './durable.ts'
import { ensureFolder, type Home } from './home.ts'
import { machineId } from './machine.ts'
import { decode, encode, eventId } from './record.ts'
import type { Sources } from './sources.ts'
import { StoreError, trouble } from './trouble.ts'

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

const WHAT = 'The practice journal cannot be written'

export const journalFolder = (home: Home): string => join(home.data, 'journal')

/**
 * The journal of this process on this machine: `journal/<machine>/<year-month>.jsonl`, only ever added to.
 * All events of a visit stand in the file of the month in which its day (cut at 4:00) lies. Any number of processes
 * may write at once. Throws StoreError when the folder cannot be written.
 */
export const openJournal = async (home: Home, sources: Sources): Promise<Journal> => {
  const folder = join(journalFolder(home), await machineId(home, sources.chance))
  await ensureFolder(folder, WHAT)
  const session = newName(sources.chance)
  const files = new Map<string, string>()
  const listed = new Set<string>()
  let next = 1
  let current: string | null = null
  let chain: Promise<unknown> = Promise.resolve()

  const put = async (path: string, lines: readonly string[]): Promise<void> => {
    // A number is used up once its record is in the file, though it may not be confirmed: no id means two events.
    await appendLines(path, lines, () => next++)
    if (!listed.has(path)) await syncFolder(dirname(path))
    listed.add(path)
  }

  const store = async (bodies: readonly Body[], time: string, offset: number, named: string | undefined) => {
    const opens = bodies[0]?.k === 'visit'
    const visit = opens ? eventId(session, next) : (named ?? current)
    if (opens) current = null
    const path = opens
      ? join(folder, `${localDay(time, offset).slice(0, 7)}.jsonl`)
      : visit && files.get(visit)
    if (!visit || !path) throw new StoreError(`${WHAT}: its visit was not opened.`)
    const lines = bodies.map((body, i) => {
      const n = next + i
      return encode({ ...body, id: eventId(session, n), session, n, visit, time, offset })
    })
    // What is confirmed is what a reader finds, to the letter.
    const events = lines.map(line => {
      const event = decode(line)
      if (typeof event === 'string') throw new RangeError(`the journal could not read this back: ${line}`)
      return event
    })
    try {
      await put(path, lines)
    } catch (error) {
      throw trouble(WHAT, path, error)
    }
    if (opens) {
      files.set(visit, path)
      current = visit
    }
    return events
  }

  return {
    append: async (bodies, visit) => {
      if (bodies.some((body, i) => i > 0 && body.k === 'visit'))
        throw new RangeError('a visit opens with the first event of an append')
      const time = new Date(sources.wall()).toISOString()
      const offset = sources.offset()
      const stored = chain.then(() => store(bodies, time, offset, visit))
      chain = stored.catch(() => {})
      return stored
    },
    close: async () => {
      await chain
    },
  }
}
