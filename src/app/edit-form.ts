import { sectionKey } from '../ladder/key.ts'
import { sentence } from '../music/result.ts'
import type { Where } from '../repertoire/edit.ts'
import type { HistoryChoice } from '../repertoire/same-music.ts'
import { editScreen } from '../screens/edit/screen.tsx'
import { editedForm } from '../screens/form/form.ts'
import type { Kept } from '../store/repertoire.ts'
import { openSettings } from '../store/settings.ts'
import { StoreError } from '../store/trouble.ts'
import type { PlainTerminal } from '../terminal/open-plain.ts'
import type { Terminal } from '../terminal/open-terminal.ts'
import type { Context, Outcome } from './context.ts'
import { aroundOf, storeEdit } from './edit-piece.ts'
import { notebookOf } from './notebook.ts'
import { readPracticed } from './now.ts'
import { controlsOf } from './preferences.ts'
import { terminalFor } from './room.ts'

const titleOf = ({ piece }: Kept, w: Where): string => {
  const passage = piece.passages.find(p => p.id === w.passage)
  const section = passage?.sections?.find(s => s.id === w.section)
  return [piece.title, passage?.name, section && `section ${section.name}`].filter(Boolean).join(', ')
}

const keyIn = (w: Where): { readonly key?: string } => {
  const id = w.section ?? w.passage
  return id ? { key: sectionKey(id) } : {}
}

/** The form for a piece, a passage or a section; `chosen` = what was typed about its history already. `on` stays open. */
export const editOnScreen = async (
  ctx: Context,
  kept: Kept,
  w: Where,
  chosen: HistoryChoice | null,
  on?: Terminal | PlainTerminal,
): Promise<Outcome> => {
  const settings = await openSettings(ctx.home, ctx.clock.wall)
  const all = await readPracticed(ctx, settings)
  const terminal = on ?? (await terminalFor(ctx, settings.now()))
  const left = await editScreen<Outcome>({
    terminal,
    timing: ctx.clock,
    controls: controlsOf(settings.now()),
    title: titleOf(kept, w),
    notebook: notebookOf(ctx),
    subject: { about: { piece: kept.piece.id, ...keyIn(w) }, says: titleOf(kept, w) },
    form: editedForm(kept.piece, w),
    around: await aroundOf(ctx),
    store: async (edits, choice) => {
      try {
        const done = await storeEdit(ctx, all, kept, w, edits, choice ?? chosen)
        if (!done.ok) return { kind: 'refused', text: sentence(done.problem) }
        const { value } = done
        return value.kind === 'asked'
          ? { kind: 'asked', text: value.says }
          : { kind: 'stored', value: value.outcome }
      } catch (error) {
        if (error instanceof StoreError) return { kind: 'refused', text: error.message }
        throw error
      }
    },
  }).finally(on ? () => {} : terminal.close)
  if (left.stored !== null) return left.stored
  return {
    lines:
      left.unsaved === ''
        ? ['Nothing was changed.']
        : ['Nothing was changed. Not stored:', `  ${left.unsaved}`],
  }
}
