import { hash } from 'node:crypto'
import type { Event } from '../ladder/event.ts'
import { summary, type Visit } from '../ladder/history.ts'
import { printable } from '../music/result.ts'
import { JOURNAL, type Uncounted, visitsIn } from './journal.ts'
import { byTime, type Decoded, parseLog } from './log.ts'

/** What one visit comes to by the lines of one file. */
export type VisitRow = {
  readonly id: string
  /** How many different events, and a hash of their lines: the same lines in two files come to the same. */
  readonly events: number
  readonly lines: string
  /** Null when the opening is not in this file. */
  readonly visit: Visit | null
}

/** What one journal file comes to on its own. */
export type FileSummary = {
  /** Its name below the journal folder. */
  readonly file: string
  /** Bytes (-1 = could not be read), and a hash of the last of them: whether the file is still the one that was folded. */
  readonly size: number
  readonly end: string
  readonly rows: readonly VisitRow[]
  /** Numbers of damaged lines; 0 = the file as a whole could not be read. */
  readonly damaged: readonly number[]
  readonly unknown: number
}

/** All that was ever practiced, a visit each, by the time of the opening. */
export type Practice = Uncounted & { readonly visits: readonly Visit[] }

/** So many bytes at the end of a file tell whether it was added to. */
const END = 4096

export const hashOf = (content: string | Uint8Array): string => hash('sha1', content, 'base64').slice(0, 16)

/** Where the end of a file of so many bytes begins. */
export const endFrom = (size: number): number => Math.max(0, size - END)

/** A text of its own: a piece of a file's text would keep all of it in memory. */
const own = (s: string): string => Buffer.from(s).toString()

/** The summary without a hold on what it was made from. */
const apart = (v: Visit | null): Visit | null =>
  v && {
    ...v,
    last: v.last && { ...v.last, time: own(v.last.time) },
    stops: v.stops.map(s => ({ ...s, place: own(s.place) })),
  }

const rowOf = (events: readonly Event[], lines: readonly string[]): VisitRow => ({
  id: (events[0] as Event).visit,
  events: events.length,
  lines: hashOf(lines.join('\n')),
  visit: apart(summary(events)),
})

/** Hears what every line was found to be. */
export type Each = (found: Decoded<Event>, line: string) => void

/** The visits of one file, folded one by one. Never throws. */
export const summarize = (bytes: Buffer, file: string, each: Each = () => {}): FileSummary => {
  const lines = new Map<string, string[]>()
  const parsed = parseLog(JOURNAL, bytes.toString(), file, (found, line) => {
    each(found, line)
    if (typeof found === 'string') return
    const known = lines.get(found.visit)
    if (known) known.push(line)
    else lines.set(found.visit, [line])
  })
  return {
    file,
    size: bytes.length,
    end: hashOf(bytes.subarray(endFrom(bytes.length))),
    rows: visitsIn([parsed]).map(events => rowOf(events, lines.get((events[0] as Event).visit) ?? [])),
    damaged: parsed.damaged.map(d => d.line),
    unknown: parsed.unknown,
  }
}

/** Visits of which two files hold different lines: a copy that was cut, or went on elsewhere. */
export const clashes = (files: readonly FileSummary[]): ReadonlySet<string> => {
  const first = new Map<string, string>()
  const found = new Set<string>()
  for (const { id, lines } of files.flatMap(f => f.rows)) {
    const known = first.get(id)
    if (known === undefined) first.set(id, lines)
    else if (known !== lines) found.add(id)
  }
  return found
}

/**
 * Many files as one practice. `refolded` has the visits on which files do not agree, gathered from the lines of all of
 * them; `place` makes the name of a file one that the player finds.
 */
export const together = (
  files: readonly FileSummary[],
  refolded: readonly (readonly Event[])[],
  place: (file: string) => string,
): Practice => {
  const byId = new Map<string, VisitRow>()
  for (const row of files.flatMap(f => f.rows)) byId.set(row.id, row)
  for (const events of refolded) {
    const row = rowOf(events, [])
    byId.set(row.id, row)
  }
  const rows = [...byId.values()]
  return {
    visits: rows.flatMap(r => r.visit ?? []).sort(byTime),
    damaged: files.flatMap(f => f.damaged.map(line => ({ file: printable(place(f.file)), line }))),
    unknown: files.reduce((sum, f) => sum + f.unknown, 0),
    unopened: rows.filter(r => !r.visit).reduce((sum, r) => sum + r.events, 0),
  }
}
