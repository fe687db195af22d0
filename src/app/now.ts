import { type Histories, historiesOf } from '../ladder/history.ts'
import { dayAt, type Instant } from '../music/day.ts'
import type { Note } from '../repertoire/note.ts'
import { type DayFile, readDay } from '../store/day-file.ts'
import { readNotes } from '../store/notes.ts'
import { journalNotes } from '../store/read-journal.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import { openSettings, type SettingsStore } from '../store/settings.ts'
import { readPractice } from '../store/snapshot.ts'
import type { Context } from './context.ts'
import { type Presets, presetsOf } from './presets.ts'

/** All that the journal knows, and what to say about lines that could not be read. */
export type Known = Histories & { readonly notes: readonly string[] }

/** All that is known when something begins: read once, then passed on. */
export type Now = {
  readonly known: Known
  /** The repertoire, and what to say about files that could not be read. */
  readonly kept: readonly Kept[]
  readonly damaged: readonly string[]
  readonly notes: readonly Note[]
  readonly settings: SettingsStore
  /** What the player made of the latest day that was begun. */
  readonly day: DayFile | null
  /** Read at the first question, then kept: most starts ask for none. */
  readonly presets: () => Promise<Presets>
}

export const known = async (ctx: Pick<Context, 'home'>): Promise<Known> => {
  const read = await readPractice(ctx.home)
  return { ...historiesOf(read.visits), notes: journalNotes(read) }
}

/** Settings that are open already are not read again. Throws StoreError where a folder cannot be read. */
export const readNow = async (ctx: Context, open?: SettingsStore): Promise<Now> => {
  const { home } = ctx
  const [all, { pieces: kept, notes: damaged }, { notes }, settings, day] = await Promise.all([
    known(ctx),
    repertoire(home).list(),
    readNotes(home),
    open ?? openSettings(home, ctx.clock.wall),
    readDay(home),
  ])
  let presets: Promise<Presets> | undefined
  return {
    known: all,
    kept,
    damaged,
    notes,
    settings,
    day,
    presets: () => {
      presets ??= presetsOf(home)
      return presets
    },
  }
}

export const instantOf = (ctx: Pick<Context, 'clock'>): Instant => ({
  wall: ctx.clock.wall(),
  offset: ctx.clock.offset(),
})

export const todayOf = (ctx: Pick<Context, 'clock'>): string => dayAt(instantOf(ctx))
