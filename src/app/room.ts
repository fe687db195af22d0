import type { Levels } from '../click/voices.ts'
import type { Event } from '../ladder/event.ts'
import { historiesOf, summary } from '../ladder/history.ts'
import { attemptLater, failed, type Need, type Result } from '../music/result.ts'
import { NOTED } from '../plan/note-words.ts'
import type { Note, NoteBody } from '../repertoire/note.ts'
import type { Notebook } from '../screens/desk.ts'
import { type KeyLock, keyLock } from '../screens/practice/key-lock.ts'
import { ALL_CAUTIONS, CAUTIONS_IN_A_ROW } from '../screens/words.ts'
import type { Sound } from '../sound/sound.ts'
import { type Journal, openJournal } from '../store/journal.ts'
import { byTime } from '../store/log.ts'
import { addNotes, takeBackNote } from '../store/notes.ts'
import { acquirePractice } from '../store/practice-lock.ts'
import { openSettings, type Settings, type SettingsStore } from '../store/settings.ts'
import { type PedalLock, pedalLock } from '../terminal/lock.ts'
import type { PlainTerminal } from '../terminal/open-plain.ts'
import type { Terminal } from '../terminal/open-terminal.ts'
import type { Setup } from '../visit/session.ts'
import { REST } from '../visit/sounding.ts'
import type { Context } from './context.ts'
import type { Now, Practiced } from './now.ts'
import { controlsOf, feetOf, levelsOf, type Manner, motionOf, outputOf, startSound } from './preferences.ts'

/** A terminal that another screen has opened and will close, and what it knows of the feet on the pedals. */
export type Stage = { readonly terminal: Terminal | PlainTerminal; readonly lock: PedalLock }

/** Where something sounds: the loudspeaker, the pedals and the journal are this program's alone while it is open. */
export type Room = {
  readonly ctx: Context
  /** Ends what is played here with the first problem. */
  readonly need: Need
  readonly settings: SettingsStore
  /** Keeps a setting; a failure is not worth a word. */
  readonly keep: (part: Partial<Settings>) => Promise<void>
  readonly sound: Sound
  readonly lock: PedalLock
  readonly notebook: Notebook
  /** Opened at the first question. */
  readonly terminal: () => Promise<Terminal | PlainTerminal>
}

/** A room in which something is practiced. */
export type PracticeRoom = Room & {
  readonly after: 'wait' | 'go-on'
  readonly rest: Setup['rest']
  readonly keys: KeyLock
  readonly journal: Journal
  readonly presets: Now['presets']
  /** What was known when the room was opened, and all that was stored here since. */
  readonly practiced: () => Practiced
  readonly notes: () => readonly Note[]
  /** Resolves once it is on disk. */
  readonly note: (body: NoteBody) => Promise<Note | undefined>
  readonly takeBack: (note: string) => Promise<void>
}

type RoomWanted = {
  readonly settings?: SettingsStore
  readonly how?: Manner
  readonly stage?: Stage | undefined
  /** False = the sound is taken as the device says it is, not as it was measured to be heard. */
  readonly offset?: boolean
  /** Nobody listens: no cautions. */
  readonly unheard?: boolean
  /** A sound of another kind, as in a demonstration. */
  readonly sound?: (set: Settings) => Sound
}

/** The terminal of this process: a screen, or lines with `--plain`. */
export const terminalFor = (
  ctx: Context,
  set: Settings,
  first?: typeof CAUTIONS_IN_A_ROW,
): Promise<Terminal | PlainTerminal> => {
  const io = { now: ctx.clock.now, stdin: process.stdin, stdout: process.stdout, feet: feetOf(set) }
  return ctx.plain
    ? import('../terminal/open-plain.ts').then(m => m.openPlain(io))
    : import('../terminal/open-terminal.ts').then(m => m.openTerminal({ ...io, first }))
}

/**
 * The cautions reach everyone once: they stand in the terminal before its first screen that sounds, which covers them, and
 * in short in that screen's last row. True = now.
 */
const cautioned = async (ctx: Context, settings: SettingsStore): Promise<boolean> => {
  if (settings.now().cautionsShown || ctx.json || !(ctx.tty || ctx.plain)) return false
  process.stdout.write(`${ALL_CAUTIONS.join('\n')}\n`)
  await settings.change({ cautionsShown: true }).catch(() => {})
  return true
}

/** Takes loudspeaker and pedals, and gives all back whatever happens. */
export const inRoom = async <T>(
  ctx: Context,
  o: RoomWanted,
  play: (room: Room) => Promise<T>,
): Promise<Result<T>> => {
  const settings = o.settings ?? (await openSettings(ctx.home, ctx.clock.wall))
  const set = settings.now()
  const one = await acquirePractice(ctx.home)
  if (!one.ok) return failed(one.message)
  // A stage has said them already.
  const first = !o.stage && !o.unheard && (await cautioned(ctx, settings))
  let terminal: Promise<Terminal | PlainTerminal> | undefined
  try {
    const heard = o.offset === false ? { ...set, offsets: {}, latency: 0 } : set
    const sound = o.sound?.(set) ?? startSound(ctx, outputOf(o.how?.output, set), heard)
    try {
      return await attemptLater(need =>
        play({
          ctx,
          need,
          settings,
          keep: part => settings.change(part).catch(() => {}),
          sound,
          notebook: notebookOf(ctx),
          lock: o.stage?.lock ?? pedalLock({ lockMs: set.lock }),
          terminal: () => {
            terminal ??= o.stage
              ? Promise.resolve(o.stage.terminal)
              : terminalFor(ctx, set, first ? CAUTIONS_IN_A_ROW : undefined)
            return terminal
          },
        }),
      )
    } finally {
      if (!o.stage) (await terminal)?.close()
      await sound.close()
    }
  } finally {
    await one.release()
  }
}

/** What every screen that sounds gets of its room. */
export const soundingIn = async (room: Room) => {
  const { ctx, sound, lock, notebook } = room
  const set = room.settings.now()
  return {
    terminal: await room.terminal(),
    timing: ctx.clock,
    controls: controlsOf(set),
    levels: levelsOf(set),
    motion: motionOf(ctx, set),
    louder: (levels: Levels): void => void room.keep({ levels: { ...levels } }),
    sound,
    lock,
    notebook,
  }
}

/** The journal, and what it knows with all that was stored through it: as if it were read again. */
export const remembering = (
  journal: Journal,
  before: Practiced,
): { readonly journal: Journal; readonly practiced: () => Practiced } => {
  const own = new Map<string, Event[]>()
  let now = before
  let stale = false
  return {
    journal: {
      ...journal,
      append: async (bodies, visit) => {
        const events = await journal.append(bodies, visit)
        for (const e of events) own.set(e.visit, [...(own.get(e.visit) ?? []), e])
        stale = events.length > 0 || stale
        return events
      },
    },
    practiced: () => {
      if (stale) {
        const visits = [...own.values()].flatMap(events => summary(events) ?? [])
        now = { ...before, ...historiesOf([...before.visits, ...visits].sort(byTime)) }
        stale = false
      }
      return now
    },
  }
}

/** The player's notes with those that are made or taken back here. */
export const noting = (
  ctx: Pick<Context, 'home' | 'clock' | 'chance'>,
  before: readonly Note[],
): Pick<PracticeRoom, 'notes' | 'note' | 'takeBack'> => {
  let notes = before
  const sources = { ...ctx.clock, chance: ctx.chance }
  return {
    notes: () => notes,
    note: async body => {
      const [note] = await addNotes(ctx.home, sources, [body])
      if (note) notes = [...notes, note]
      return note
    },
    takeBack: async id => {
      await takeBackNote(ctx.home, sources, id)
      notes = notes.filter(n => n.id !== id)
    },
  }
}

/** The same with the journal open, and all that is known at hand. */
export const inPracticeRoom = async <T>(
  ctx: Context,
  now: Pick<Now, 'practiced' | 'notes' | 'settings' | 'presets'>,
  o: Omit<RoomWanted, 'settings'>,
  play: (room: PracticeRoom) => Promise<T>,
): Promise<Result<T>> =>
  inRoom(ctx, { ...o, settings: now.settings }, async room => {
    const opened = await openJournal(ctx.home, { ...ctx.clock, chance: ctx.chance })
    const set = now.settings.now()
    const { how } = o
    const noted = noting(ctx, now.notes)
    try {
      return await play({
        ...room,
        notebook: notebookOf(ctx, noted.note),
        after: how?.after ?? set.after,
        rest: { ...REST, asLong: (how?.rest ?? set.rest) === 'as-long' },
        keys: keyLock((how?.keys ?? set.keys) === 'pedals'),
        presets: now.presets,
        ...remembering(opened, now.practiced),
        ...noted,
      })
    } finally {
      await opened.close()
    }
  })

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
