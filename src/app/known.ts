import { type Histories, historiesOf } from '../ladder/history.ts'
import { dayAt, type Instant } from '../music/day.ts'
import { journalNotes } from '../store/read-journal.ts'
import { readPractice } from '../store/snapshot.ts'
import type { Context } from './context.ts'

/** All that the journal knows, and what to say about lines that could not be read. */
export type Known = Histories & { readonly notes: readonly string[] }

export const known = async (ctx: Context): Promise<Known> => {
  const read = await readPractice(ctx.home)
  return { ...historiesOf(read.visits), notes: journalNotes(read) }
}

export const instantOf = (ctx: Context): Instant => ({ wall: ctx.clock.wall(), offset: ctx.clock.offset() })

export const todayOf = (ctx: Context): string => dayAt(instantOf(ctx))
