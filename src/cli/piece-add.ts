import type { Context, Outcome } from '../app/context.ts'
import { addPassage, aroundOf } from '../app/edit-piece.ts'
import { pieceJson, repertoireNow } from '../app/repertoire-rows.ts'
import { goalText, spoken } from '../music/tempo.ts'
import type { Passage } from '../repertoire/piece.ts'
import { must } from './command.ts'
import type { EditTyped } from './piece-commands.ts'
import { editsOf } from './piece-edit.ts'

/** Nothing stands in the lists of a passage that is not there yet. */
const EMPTY: Passage = { id: 'none', name: 'new', meter: '4/4', count: 1, pickup: null, goal: '999' }

/** Adds a passage by options. */
export const pieceAddCommand = async (ctx: Context, title: string, t: EditTyped): Promise<Outcome> => {
  const { passage: name, ...rest } = t
  const typed = must(editsOf(rest, 'passage', EMPTY, () => 'gradino piece edit', await aroundOf(ctx)))
  const fields = { ...typed.fields, title, ...(typeof name === 'string' ? { name } : {}) }
  const { piece, passage } = must(await addPassage(ctx, { ...typed, fields }))
  const now = await repertoireNow(ctx)
  const row = now.rows.find(r => r.id === passage.id)
  const from = row?.next
    ? `${row.finding ? 'looks for its start from' : 'begins at'} ${spoken(row.next)}`
    : ''
  return {
    lines: [
      `${piece.title}, ${row?.place}: ${row?.music}, ${row && goalText(row.goal, row.top, row.open)}; the first visit ${from}.`,
      `To practice: gradino practice "${piece.title}/${passage.name}"`,
      ...now.notes,
    ],
    json: pieceJson(now, piece, [passage]),
  }
}
