import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import * as z from 'zod'
import { localDay } from '../music/day.ts'
import { printable } from '../music/result.ts'
import { newName } from '../repertoire/names.ts'
import { NOTE_LENGTH, type Note, type NoteBody, type NoteKind, WRONGS } from '../repertoire/note.ts'
import { appendLines } from './append-lines.ts'
import { syncFolder } from './durable.ts'
import { ensureFolder, type Home } from './home.ts'
import { machineId } from './machine.ts'
import { readText } from './read-file.ts'
import type { Damaged } from './read-journal.ts'
import { eventId, RECORD_VERSION } from './record.ts'
import type { Sources } from './sources.ts'
import { codeOf, trouble } from './trouble.ts'

/** A line that takes a note back, by its id; the note's own line stays where it is. */
export type TakenBack = Pick<Note, 'id' | 'time' | 'offset'> & { readonly k: 'back'; readonly of: string }

export type NotesRead = {
  /** By time, each once, without those that were taken back. */
  readonly notes: readonly Note[]
  readonly damaged: readonly Damaged[]
  /** Lines of a newer version or of a kind that is not known here. */
  readonly unknown: number
}

const text = z
  .string()
  .max(4 * NOTE_LENGTH)
  .transform(printable)
const about = { text, piece: text.exactOptional(), key: text.exactOptional() }
const spoken = { ...about, text: text.refine(s => s.trim() !== '') }
const id = z.string().regex(/^[a-z0-9]{4,40}-\d{6,12}$/)
const head = z.object({
  id,
  time: z.iso.datetime(),
  offset: z.int().min(-1440).max(1440),
})

const KINDS = {
  note: z.object({ k: z.literal('note'), ...spoken }),
  tomorrow: z.object({ k: z.literal('tomorrow'), ...spoken }),
  teacher: z.object({ k: z.literal('teacher'), ...spoken }),
  pain: z.object({ k: z.literal('pain'), ...about }),
  wrong: z.object({ k: z.literal('wrong'), ...about, what: z.enum(WRONGS), place: text.exactOptional() }),
} satisfies { readonly [K in NoteKind]: z.ZodType }

const BACK = z.object({ k: z.literal('back'), of: id })

export const encodeNote = ({ id, time, offset, ...body }: Note | TakenBack): string =>
  JSON.stringify({ v: RECORD_VERSION, id, time, offset, ...body })

/** A line of a file of notes. Never throws. */
export const decodeNote = (line: string): Note | TakenBack | 'newer' | 'damaged' => {
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
  const label = head.safeParse(found)
  if (!label.success || typeof k !== 'string') return 'damaged'
  if (k !== 'back' && !Object.hasOwn(KINDS, k)) return 'newer'
  const body = (k === 'back' ? BACK : KINDS[k as NoteKind]).safeParse(found)
  return body.success ? { ...body.data, ...label.data } : 'damaged'
}

export const notesFolder = (home: Home): string => join(home.data, 'notes')

const CANNOT = 'The note cannot be stored'

/** Puts lines on disk and gives back what a reader finds in them, to the letter. */
const addLines = async (
  home: Home,
  sources: Sources,
  bodies: readonly (NoteBody | Pick<TakenBack, 'k' | 'of'>)[],
): Promise<readonly (Note | TakenBack)[]> => {
  const folder = join(notesFolder(home), await machineId(home, sources.chance))
  await ensureFolder(folder, CANNOT)
  const session = newName(sources.chance)
  const [time, offset] = [new Date(sources.wall()).toISOString(), sources.offset()]
  const lines = bodies.map((body, i) => encodeNote({ ...body, id: eventId(session, i + 1), time, offset }))
  const found = lines.map(line => {
    const one = decodeNote(line)
    if (typeof one === 'string') throw new RangeError(`the notes could not be read back: ${line}`)
    return one
  })
  try {
    await appendLines(join(folder, `${localDay(time, offset).slice(0, 7)}.jsonl`), lines)
    await syncFolder(folder)
  } catch (error) {
    throw trouble(CANNOT, folder, error)
  }
  return found
}

/**
 * Keeps notes in `notes/<machine>/<year-month>.jsonl`, only ever added to. Resolves once they are on disk. Throws
 * StoreError (one sentence) when they are not, and RangeError for a note that the reader would not take.
 */
export const addNotes = async (
  home: Home,
  sources: Sources,
  bodies: readonly NoteBody[],
): Promise<readonly Note[]> =>
  (await addLines(home, sources, bodies)).flatMap(one => (one.k === 'back' ? [] : [one]))

/** Takes a note back: a line of its own says so, kept and thrown as above. Twice is once. */
export const takeBackNote = async (home: Home, sources: Sources, of: string): Promise<void> => {
  await addLines(home, sources, [{ k: 'back', of }])
}

const byTime = (a: Note, b: Note): number => (a.time < b.time || (a.time === b.time && a.id < b.id) ? -1 : 1)

/** Each note once; if damage gives two events one id, the first in the alphabet counts. */
const union = (notes: readonly Note[]): readonly Note[] => {
  const sorted = [...notes].sort((a, b) => (encodeNote(a) < encodeNote(b) ? -1 : 1))
  const byId = new Map<string, Note>()
  for (const note of sorted) if (!byId.has(note.id)) byId.set(note.id, note)
  return [...byId.values()].sort(byTime)
}

/** All notes from all machines, copies that a sync tool left included. Throws StoreError when the folder cannot be read. */
export const readNotes = async (home: Home): Promise<NotesRead> => {
  const folder = notesFolder(home)
  const names = await readdir(folder, { recursive: true }).catch(error => {
    if (codeOf(error) === 'ENOENT') return []
    throw trouble('The notes cannot be read', folder, error)
  })
  const notes: Note[] = []
  const back = new Set<string>()
  const damaged: Damaged[] = []
  let unknown = 0
  for (const name of names.filter(n => /\.jsonl$/i.test(n)).sort()) {
    const file = join(folder, name)
    const lines = await readText(file).catch(() => null)
    if (lines === null) damaged.push({ file: printable(file), line: 0 })
    for (const [i, line] of (lines ?? '').split('\n').entries()) {
      if (line.trim() === '') continue
      const found = decodeNote(line)
      if (found === 'damaged') damaged.push({ file: printable(file), line: i + 1 })
      else if (found === 'newer') unknown++
      else if (found.k === 'back') back.add(found.of)
      else notes.push(found)
    }
  }
  return { notes: union(notes.filter(n => !back.has(n.id))), damaged, unknown }
}

/** One sentence for each kind of line that was not counted; empty when all is well. */
export const notesTrouble = ({ damaged, unknown }: Omit<NotesRead, 'notes'>): readonly string[] => {
  const [first] = damaged
  const where =
    first &&
    (first.line === 0 ? `${first.file}, which can't be read as a file` : `${first.file}, line ${first.line}`)
  const places = damaged.length === 1 ? 'a damaged place' : `${damaged.length} damaged places`
  const lines = unknown === 1 ? '1 line of the notes' : `${unknown} lines of the notes`
  return [
    ...(first
      ? [`The notes have ${places}, skipped${damaged.length > 1 ? '; the first' : ''}: ${where}.`]
      : []),
    ...(unknown > 0 ? [`${lines} came from a newer Gradino and did not count here; nothing is lost.`] : []),
  ]
}
