import type { Context, Outcome } from '../app/context.ts'
import { todayOf } from '../app/now.ts'
import { aboutOf, lettersIn, notesLines } from '../plan/note-words.ts'
import { noteDay } from '../repertoire/note.ts'
import { notesTrouble, readNotes } from '../store/notes.ts'
import { removedPieces, repertoire } from '../store/repertoire.ts'
import type { Typed } from './commands.ts'

/** The player's notes, what each is about, and the rehearsal marks of its place: also of pieces that are no longer there. */
export const readKnown = async ({ home }: Context) => {
  const [read, { pieces }, removed] = await Promise.all([
    readNotes(home),
    repertoire(home).list(),
    removedPieces(home),
  ])
  const known = [...removed, ...pieces.map(k => k.piece)]
  return { ...read, trouble: notesTrouble(read), about: aboutOf(known), letters: lettersIn(known) }
}

/** All notes of the player, oldest first. */
export const notesCommand = async (ctx: Context, t: Typed<'notes'> = {}): Promise<Outcome> => {
  const { notes, trouble, about, letters } = await readKnown(ctx)
  const lines = notesLines(notes, todayOf(ctx), about, letters, t.ids)
  return {
    lines: [...(lines.length > 0 ? lines : ['No notes yet. A first one: gradino note TEXT']), ...trouble],
    json: {
      notes: notes.map(n => ({ ...n, day: noteDay(n), about: about(n) || null })),
      trouble,
    },
  }
}
