import type { Context, Outcome } from '../app/context.ts'
import { todayOf } from '../app/now.ts'
import { aboutOf, lettersIn, notesLines } from '../plan/note-words.ts'
import { noteDay } from '../repertoire/note.ts'
import { notesTrouble, readNotes } from '../store/notes.ts'
import { removedPieces } from '../store/removed-pieces.ts'
import { repertoire } from '../store/repertoire.ts'
import type { Typed } from './commands.ts'

/** All notes of the player, oldest first. */
export const notesCommand = async (ctx: Context, t: Typed<'notes'> = {}): Promise<Outcome> => {
  const [read, { pieces }, removed] = await Promise.all([
    readNotes(ctx.home),
    repertoire(ctx.home).list(),
    removedPieces(ctx.home),
  ])
  const known = [...removed, ...pieces.map(k => k.piece)]
  const about = aboutOf(known)
  const trouble = notesTrouble(read)
  const lines = notesLines(read.notes, todayOf(ctx), about, lettersIn(known), t.ids)
  return {
    lines: [...(lines.length > 0 ? lines : ['No notes yet. A first one: gradino note TEXT']), ...trouble],
    json: {
      notes: read.notes.map(n => ({ ...n, day: noteDay(n), about: about(n) || null })),
      trouble,
    },
  }
}
