import * as z from 'zod'
import { printable } from '../music/result.ts'
import { NOTE_LENGTH, type Note, type NoteBody, type NoteKind, WRONGS } from '../repertoire/note.ts'
import type { Home } from './home.ts'
import {
  type Codec,
  ID,
  LABELS,
  logFolder,
  monthOf,
  openLog,
  RECORD_VERSION,
  readLog,
  readRecord,
  type Skipped,
  stamp,
} from './log.ts'
import { skippedLines } from './log-words.ts'
import type { Sources } from './sources.ts'

/** A line that takes a note back, by its id; the note's own line stays where it is. */
type TakenBack = Pick<Note, 'id' | 'time' | 'offset'> & { readonly kind: 'takeBack'; readonly of: string }

/** The notes by time, each once, without those that were taken back. */
export type NotesRead = Skipped & { readonly notes: readonly Note[] }

const text = z
  .string()
  .max(4 * NOTE_LENGTH)
  .transform(printable)
const about = { text, piece: text.exactOptional(), key: text.exactOptional() }
const spoken = { ...about, text: text.refine(s => s.trim() !== '') }

/** What older notes call taking back. */
const FORMERLY = 'back'

const KINDS = {
  note: z.object({ kind: z.literal('note'), ...spoken }),
  tomorrow: z.object({ kind: z.literal('tomorrow'), ...spoken }),
  teacher: z.object({ kind: z.literal('teacher'), ...spoken }),
  pain: z.object({ kind: z.literal('pain'), ...about }),
  wrong: z.object({ kind: z.literal('wrong'), ...about, what: z.enum(WRONGS), place: text.exactOptional() }),
  takeBack: z.object({
    kind: z.enum(['takeBack', FORMERLY]).transform(() => 'takeBack' as const),
    of: z.string().regex(ID),
  }),
} satisfies { readonly [K in NoteKind | 'takeBack']: z.ZodType }

const READ = { ...KINDS, [FORMERLY]: KINDS.takeBack }

export const NOTES: Codec<Note | TakenBack> = {
  name: 'notes',
  cannotWrite: "Can't store the note",
  cannotRead: "Can't read the notes",
  encode: ({ id, time, offset, kind: k, ...body }) =>
    JSON.stringify({ v: RECORD_VERSION, id, time, offset, k, ...body }),
  decode: line => {
    const found = readRecord(line, LABELS, READ)
    return typeof found === 'string' ? found : { ...found.body, ...found.head }
  },
}

export const notesFolder = (home: Home): string => logFolder(home, NOTES)

const add = async (
  home: Home,
  sources: Sources,
  bodies: readonly (NoteBody | Pick<TakenBack, 'kind' | 'of'>)[],
): Promise<readonly (Note | TakenBack)[]> => {
  const log = await openLog(home, sources, NOTES)
  const at = stamp(sources)
  return log.append(
    monthOf(at),
    bodies.map((body, i) => ({ ...body, id: log.next(i).id, ...at })),
  )
}

/** Keeps notes. Resolves once they are on disk; throws as a log does. */
export const addNotes = async (
  home: Home,
  sources: Sources,
  bodies: readonly NoteBody[],
): Promise<readonly Note[]> =>
  (await add(home, sources, bodies)).flatMap(one => (one.kind === 'takeBack' ? [] : [one]))

/** Takes a note back: a line of its own says so, kept and thrown as above. Twice is once. */
export const takeBackNote = async (home: Home, sources: Sources, of: string): Promise<void> => {
  await add(home, sources, [{ kind: 'takeBack', of }])
}

/** All notes from all machines. Throws StoreError when the folder cannot be read. */
export const readNotes = async (home: Home): Promise<NotesRead> => {
  const { records, ...skipped } = await readLog(home, NOTES)
  const takenBack = new Set(records.flatMap(one => (one.kind === 'takeBack' ? [one.of] : [])))
  return {
    notes: records.flatMap(one => (one.kind === 'takeBack' || takenBack.has(one.id) ? [] : [one])),
    ...skipped,
  }
}

/** One sentence for each kind of line that was not counted; empty when all is well. */
export const notesTrouble = (read: Skipped): readonly string[] => skippedLines(NOTES.name, read)
