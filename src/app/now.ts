import { type Histories, historiesOf } from '../ladder/history.ts'
import type { Climb } from '../ladder/rules.ts'
import { dayAt, type Instant } from '../music/day.ts'
import { parseWeek, type Week } from '../music/day-words.ts'
import type { Note } from '../repertoire/note.ts'
import { type DayFile, readDay } from '../store/day-file.ts'
import { journalNotes } from '../store/journal.ts'
import { notesTrouble, readNotes } from '../store/notes.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import { CLIMB_KEYS, openSettings, type Settings, type SettingsStore, USUAL } from '../store/settings.ts'
import { readPractice } from '../store/snapshot.ts'
import type { Context } from './context.ts'
import { type Presets, presetsOf } from './presets.ts'

/** All that the journal knows, and what to say about lines that could not be read. */
export type Practiced = Histories & { readonly notes: readonly string[] }

/** All that is known when something begins: read once, then passed on. */
export type Now = {
  readonly practiced: Practiced
  /** The repertoire, and what to say about files that could not be read. */
  readonly kept: readonly Kept[]
  readonly damaged: readonly string[]
  readonly notes: readonly Note[]
  /** A sentence for each file and line of all these that could not be read. */
  readonly trouble: readonly string[]
  readonly settings: SettingsStore
  /** What the player made of the latest day that was begun. */
  readonly day: DayFile | null
  /** Read at the first question, then kept: most starts ask for none. */
  readonly presets: () => Promise<Presets>
}

/** The player's own rules of a ladder, as far as they are not the usual ones. */
const usualOf = (s: Settings): Climb =>
  Object.fromEntries(CLIMB_KEYS.flatMap(k => (s[k] === USUAL ? [] : [[k, s[k]]])))

/** The days on which the player plays, where that was said. */
const weekOf = ({ days }: Settings): { readonly week?: Week } => {
  const read = days === undefined ? null : parseWeek(days)
  return read?.ok ? { week: read.value } : {}
}

/** These as wishes. */
export const usually = ({ usual }: Histories) => (usual ? { usual } : {})

/** Settings that are open already are not read again. Throws StoreError where a folder cannot be read. */
export const readPracticed = async (
  ctx: Pick<Context, 'home'> & Partial<Pick<Context, 'clock'>>,
  open?: SettingsStore,
): Promise<Practiced> => {
  const [read, settings] = await Promise.all([
    readPractice(ctx.home),
    open ?? openSettings(ctx.home, ctx.clock?.wall ?? Date.now),
  ])
  const set = settings.now()
  return { ...historiesOf(read.visits), notes: journalNotes(read), usual: usualOf(set), ...weekOf(set) }
}

/** Settings that are open already are not read again. Throws StoreError where a folder cannot be read. */
export const readNow = async (ctx: Context, open?: SettingsStore): Promise<Now> => {
  const { home } = ctx
  const settings = open ?? (await openSettings(home, ctx.clock.wall))
  const [all, { pieces: kept, notes: damaged }, noted, day] = await Promise.all([
    readPracticed(ctx, settings),
    repertoire(home).list(),
    readNotes(home),
    readDay(home),
  ])
  let presets: Promise<Presets> | undefined
  return {
    practiced: all,
    kept,
    damaged,
    notes: noted.notes,
    trouble: [...damaged, ...all.notes, ...notesTrouble(noted)],
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
