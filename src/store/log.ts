import { constants, readdir } from 'node:fs/promises'
import { join } from 'node:path'
import * as z from 'zod'
import { localDay } from '../music/day.ts'
import { printable } from '../music/result.ts'
import { newName } from '../repertoire/names.ts'
import { FILE_MODE, syncFolder } from './durable.ts'
import { ensureFolder, type Home } from './home.ts'
import { machineId } from './machine.ts'
import { MOST_BYTES, openFile, readText } from './read-file.ts'
import type { Sources } from './sources.ts'
import { codeOf, trouble } from './trouble.ts'

/** The version that this program writes. Lines with a higher one are left for a newer program. */
export const RECORD_VERSION = 1

export const ID = /^([a-z0-9]{4,40})-(\d{6,12})$/

/** What every record bears. */
export const LABELS = z.object({
  id: z.string().regex(ID),
  time: z.iso.datetime(),
  offset: z.int().min(-1440).max(1440),
})
type Labels = Readonly<z.infer<typeof LABELS>>

/** `<session>-<n>`; padded, so that the order of the texts is the order of the numbers (up to a million). */
export const recordId = (session: string, n: number): string => `${session}-${String(n).padStart(6, '0')}`

/** By time; of two at the same time, by id. */
export const byTime = (a: Pick<Labels, 'id' | 'time'>, b: Pick<Labels, 'id' | 'time'>): number =>
  a.time < b.time || (a.time === b.time && a.id < b.id) ? -1 : 1

/** A record; or `newer`: of a version or kind that this program does not know; or `damaged`. */
export type Decoded<T> = T | 'newer' | 'damaged'

export type LogName = 'journal' | 'notes'

/** What a log keeps. */
export type Codec<T extends Labels> = {
  /** Its folder, and its name in a sentence. */
  readonly name: LogName
  readonly cannotWrite: string
  readonly cannotRead: string
  /** One line, without its ends. */
  readonly encode: (record: T) => string
  /** Never throws. */
  readonly decode: (line: string) => Decoded<T>
}

/** The labels of a line, and its body by the schema of its kind, which stands under `k` on disk. Never throws. */
export const readRecord = <H, K extends Readonly<Record<string, z.ZodType>>>(
  line: string,
  labels: z.ZodType<H>,
  kinds: K,
): Decoded<{ readonly head: H; readonly body: z.infer<K[keyof K]> }> => {
  let found: unknown
  try {
    found = JSON.parse(line)
  } catch {
    return 'damaged'
  }
  if (typeof found !== 'object' || found === null) return 'damaged'
  const { v, k } = found as Readonly<Record<string, unknown>>
  if (typeof v !== 'number' || !Number.isInteger(v) || v < 1) return 'damaged'
  if (v > RECORD_VERSION) return 'newer'
  const head = labels.safeParse(found)
  if (!head.success || typeof k !== 'string') return 'damaged'
  if (!Object.hasOwn(kinds, k)) return 'newer'
  const body = (kinds[k] as K[keyof K]).safeParse(Object.assign(found, { kind: k }))
  return body.success ? { head: head.data, body: body.data } : 'damaged'
}

export const logFolder = (home: Home, { name }: { readonly name: string }): string => join(home.data, name)

/**
 * Adds lines to a file, so that they outlast a power cut when this resolves. Any number of processes may do so at once.
 * Whole records go to the file in one write; a write that was cut short is followed by the unfinished records anew,
 * never by their rest, since another process may have written between. `through` is called for each whole record.
 * Throws the system's error; then some of the records may be in the file.
 */
export const appendLines = async (
  path: string,
  lines: readonly string[],
  through: () => void = () => {},
): Promise<void> => {
  // Opened each time: a file that was deleted or replaced meanwhile would swallow what is written to the old one.
  const { O_APPEND, O_CREAT, O_WRONLY } = constants
  const { handle } = await openFile(path, O_WRONLY | O_APPEND | O_CREAT, MOST_BYTES, FILE_MODE)
  try {
    for (let tries = 0, done = 0; done < lines.length; tries++) {
      if (tries > 2) throw Object.assign(new Error('written in part, three times'), { code: 'ENOSPC' })
      // The newline in front keeps a record apart from a torn one before it.
      const records = lines.slice(done).map(line => Buffer.from(`\n${line}\n`))
      let { bytesWritten } = await handle.write(Buffer.concat(records))
      for (const record of records) {
        if (bytesWritten < record.length - 1) break
        bytesWritten -= record.length
        done++
        through()
      }
    }
    await handle.datasync()
  } finally {
    await handle.close()
  }
}

/** The labels of what is written now. */
export const stamp = (sources: Sources): Pick<Labels, 'time' | 'offset'> => ({
  time: new Date(sources.wall()).toISOString(),
  offset: sources.offset(),
})

/** The month of a record's day (cut at 4:00), by which its file is called. */
export const monthOf = ({ time, offset }: Pick<Labels, 'time' | 'offset'>): string =>
  localDay(time, offset).slice(0, 7)

export type LogWriter<T> = {
  /** Session and number of the record that is written next, or `ahead` of it; session and number make its id. */
  readonly next: (ahead?: number) => { readonly id: string; readonly session: string; readonly n: number }
  /**
   * Puts records, labeled by `next`, into the file of a month, and gives back what a reader finds there, to the letter.
   * One call at a time. Throws StoreError (one sentence), and RangeError for records that the reader would not take.
   */
  readonly append: (month: string, records: readonly T[]) => Promise<readonly T[]>
}

/**
 * A log of this process on this machine: `<name>/<machine>/<year-month>.jsonl`, only ever added to. Any number of
 * processes may write at once. Throws StoreError when the folder cannot be written.
 */
export const openLog = async <T extends Labels>(
  home: Home,
  sources: Sources,
  codec: Codec<T>,
): Promise<LogWriter<T>> => {
  const folder = join(logFolder(home, codec), await machineId(home, sources.chance))
  await ensureFolder(folder, codec.cannotWrite)
  const session = newName(sources.chance)
  const listed = new Set<string>()
  let next = 1
  return {
    next: (ahead = 0) => ({ id: recordId(session, next + ahead), session, n: next + ahead }),
    append: async (month, records) => {
      const path = join(folder, `${month}.jsonl`)
      const lines = records.map(codec.encode)
      const found = lines.map(line => {
        const one = codec.decode(line)
        if (typeof one === 'string') throw new RangeError(`the ${codec.name} could not be read back: ${line}`)
        return one
      })
      try {
        // A number is used up once its record is in the file, though it may not be confirmed: no id means two records.
        await appendLines(path, lines, () => next++)
        if (!listed.has(path)) await syncFolder(folder)
        listed.add(path)
      } catch (error) {
        throw trouble(codec.cannotWrite, path, error)
      }
      return found
    },
  }
}

/** What was passed over. */
export type Skipped = {
  /** Lines that could not be understood; line 0 = the file as a whole could not be read. */
  readonly damaged: readonly { readonly file: string; readonly line: number }[]
  /** Lines of a newer version, or of a kind that is not known here. */
  readonly unknown: number
}

/** What files hold. */
export type Records<T> = Skipped & { readonly records: readonly T[] }

/** The lines of one file; `each` hears what every line was found to be. Never throws. */
export const parseLog = <T extends Labels>(
  { decode }: Codec<T>,
  text: string,
  file: string,
  each: (found: Decoded<T>, line: string) => void = () => {},
): Records<T> => {
  const records: T[] = []
  const damaged: Skipped['damaged'][number][] = []
  let unknown = 0
  for (const [i, line] of text.split('\n').entries()) {
    if (line.trim() === '') continue
    const found = decode(line)
    each(found, line)
    if (found === 'damaged') damaged.push({ file: printable(file), line: i + 1 })
    else if (found === 'newer') unknown++
    else records.push(found)
  }
  return { records, damaged, unknown }
}

/** One file, or as damaged as a whole when it cannot be read. */
export const readLogFile = async <T extends Labels>(codec: Codec<T>, path: string): Promise<Records<T>> => {
  const text = await readText(path).catch(() => null)
  return text === null
    ? { records: [], damaged: [{ file: printable(path), line: 0 }], unknown: 0 }
    : parseLog(codec, text, path)
}

/**
 * The names of all `.jsonl` files below a log's folder: of all machines, and copies that a sync tool left. Throws
 * StoreError when the folder cannot be read.
 */
export const logFiles = async <T extends Labels>(home: Home, codec: Codec<T>): Promise<readonly string[]> => {
  const folder = logFolder(home, codec)
  try {
    const names = await readdir(folder, { recursive: true })
    return names.filter(name => /\.jsonl$/i.test(name)).sort()
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return []
    throw trouble(codec.cannotRead, folder, error)
  }
}

/** Each record once; if damage gives two records one id, the first in the alphabet counts everywhere. */
export const once = <T extends Labels>({ encode }: Codec<T>, records: readonly T[]): readonly T[] => {
  const byId = new Map<string, T>()
  for (const record of records) {
    const known = byId.get(record.id)
    if (!known || encode(record) < encode(known)) byId.set(record.id, record)
  }
  return [...byId.values()]
}

/** All files as one log: what is kept, each once, by time. Throws StoreError when the folder cannot be read. */
export const readLog = async <T extends Labels>(home: Home, codec: Codec<T>): Promise<Records<T>> => {
  const files: Records<T>[] = []
  for (const name of await logFiles(home, codec))
    files.push(await readLogFile(codec, join(logFolder(home, codec), name)))
  return {
    records: [
      ...once(
        codec,
        files.flatMap(f => f.records),
      ),
    ].sort(byTime),
    damaged: files.flatMap(f => f.damaged),
    unknown: files.reduce((sum, f) => sum + f.unknown, 0),
  }
}
