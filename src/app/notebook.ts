import { NOTED } from '../plan/note-words.ts'
import type { NoteBody } from '../repertoire/note.ts'
import type { Notebook } from '../screens/overlay.ts'
import { addNotes } from '../store/notes.ts'
import type { Context } from './context.ts'

/** Where notes are kept that are written on a screen. */
export const notebookOf = (
  ctx: Pick<Context, 'home' | 'clock' | 'chance'>,
  note: (body: NoteBody) => Promise<unknown> = body =>
    addNotes(ctx.home, { ...ctx.clock, chance: ctx.chance }, [body]),
): Notebook => ({
  keep: async body => {
    await note(body)
    return NOTED[body.kind]
  },
})
