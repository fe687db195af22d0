import type { Levels } from '../click/voices.ts'
import { openingTomorrow, takesOf, verdictsOn } from '../ladder/standing.ts'
import { attemptLater, failed, type Need, type Result } from '../music/result.ts'
import { quickNotesWords } from '../music/rhythm.ts'
import { goalNumbers, spoken, type Tempo } from '../music/tempo.ts'
import { cautionsOf, firstLines } from '../plan/cautions.ts'
import type { Wrong } from '../repertoire/note.ts'
import type { Conductor, Held } from '../screens/practice/conduct.ts'
import { type KeyLock, keyLock } from '../screens/practice/key-lock.ts'
import type { Left } from '../screens/practice/left.ts'
import type { Frame } from '../screens/practice/screen.tsx'
import { type Ending, wrongsOf } from '../screens/practice/words.ts'
import type { Sound } from '../sound/sound.ts'
import { type Journal, openJournal } from '../store/journal.ts'
import { addNotes, readNotes, takeBackNote } from '../store/notes.ts'
import { acquirePractice } from '../store/practice-lock.ts'
import { openSettings, type SettingsStore } from '../store/settings.ts'
import { type PedalLock, pedalLock } from '../terminal/lock.ts'
import type { PlainTerminal } from '../terminal/open-plain.ts'
import type { Terminal } from '../terminal/open-terminal.ts'
import { offerFor, offerLine } from '../visit/joining.ts'
import { REST } from '../visit/rest.ts'
import type { Setup } from '../visit/session.ts'
import type { SlotClock } from '../visit/slot-clock.ts'
import type { Target } from '../visit/subject.ts'
import { coldTempo } from '../visit/takes.ts'
import { besideOf, besideSlot } from './beside.ts'
import type { Context, Outcome } from './context.ts'
import { bows } from './instruments.ts'
import { instantOf, type Known, known, todayOf } from './known.ts'
import { controlsOf, dateText, feetOf, levelsOf, type Manner, outputOf, startSound } from './preferences.ts'

/** A terminal that another screen has opened and will close, and what it knows of the feet on the pedals. */
export type Stage = { readonly terminal: Terminal; readonly lock: PedalLock }

/** Closing lines; `quit` = the player left the program (Ctrl+C), not only the visit. */
export type Visited = Outcome & { readonly quit: boolean }

/** What all visits of one sitting share. */
export type Room = {
  readonly ctx: Context
  /** Ends what is played here with the first problem. */
  readonly need: Need
  readonly settings: SettingsStore
  readonly after: 'wait' | 'go-on'
  readonly rest: Setup['rest']
  readonly keys: KeyLock
  readonly journal: Journal
  readonly sound: Sound
  readonly lock: PedalLock
  readonly terminal:
    | { readonly k: 'screen'; readonly on: Terminal }
    | { readonly k: 'plain'; readonly on: PlainTerminal }
}

/** A stay of so many minutes, in the plan of a day: its clock, and what is said of it before the first press. */
export type Slot = {
  readonly clock: SlotClock
  readonly says: string
  /** The ladder ends here, short of the goal; null = it does not. */
  readonly top: Tempo | null
}

/** `begins`: by itself, after the usual rest. `from`: where it was left for something else, and today's verdicts before it. */
export type Part = {
  readonly setup: Setup
  readonly target: Target
  readonly short: boolean
  readonly begins?: boolean
  readonly slot?: Slot
  readonly from?: Held & Pick<Frame, 'earlier'>
}

/** What `C` does where the goal is a range. */
const otherEnd = (all: Known, t: Target): string =>
  t.top ? `   C: at ${spoken(coldTempo(all, t, 'other'))}.` : ''

/** Whether a cold take can still be one, and what is said before the first repetition of a day, or the first of all. */
const coldOf = (ctx: Context, all: Known, t: Target): Pick<Frame, 'cold' | 'coldIsOpen'> => {
  const done = takesOf(all, t.key).findLast(c => c.day === todayOf(ctx))
  const clean = done?.clean ? 'clean' : 'not clean'
  if (done) return { cold: `Cold take today at ${spoken(done.tempo)}: ${clean}.`, coldIsOpen: false }
  const open =
    t.rhythm === null && verdictsOn(all.of(t.key), todayOf(ctx)).verdicts === 0 && !!all.of(t.key)?.ceiling
  const never = (all.of(t.key)?.visits.length ?? 0) === 0
  const first = never ? `Hear the goal first? l: its click at ${spoken(t.goal)}, once.` : ''
  return {
    cold: open ? `A cold take first? c: once, at ${spoken(coldTempo(all, t))}.${otherEnd(all, t)}` : first,
    coldIsOpen: open,
  }
}

/**
 * Keeps what went wrong beside a verdict; said a second time of the same one, it is taken back. What is said is on disk
 * before.
 */
export const wrongsKept = (ctx: Pick<Context, 'home' | 'clock' | 'chance'>, key: string) => {
  const sources = { ...ctx.clock, chance: ctx.chance }
  const noted = new Map<string, string>()
  return async (what: Wrong, place: string | undefined, verdict: string): Promise<string> => {
    const name = `${verdict} ${what}`
    const known = noted.get(name)
    try {
      if (known !== undefined) {
        await takeBackNote(ctx.home, sources, known)
        noted.delete(name)
        return `Taken back: ${what}.`
      }
      const body = { k: 'wrong', text: '', what, key, ...(place ? { place } : {}) } as const
      const [note] = await addNotes(ctx.home, sources, [body])
      if (note) noted.set(name, note.id)
      return `Noted: ${what}. The same key takes it back.`
    } catch (error) {
      return error instanceof Error ? error.message : String(error)
    }
  }
}

/** One visit: from its opening to finishing. A short one has no closing view. */
export const play = async (room: Room, all: Known, part: Part): Promise<Left & Pick<Frame, 'earlier'>> => {
  const { setup, target, short, begins = false, from, slot } = part
  const { ctx, settings, journal, sound, terminal } = room
  const { conduct } = await import('../screens/practice/conduct.ts')
  const conductor = (changed: () => void): Conductor =>
    conduct({
      setup,
      sound,
      append: bodies => journal.append(bodies, from?.session.events[0]?.visit),
      timing: ctx.clock,
      lock: room.lock,
      changed,
      ...(from ? { from } : {}),
      ...(slot ? { slot: slot.clock } : {}),
    })
  const tempo = setup.opening.rungs[setup.opening.at] ?? target.goal
  const first = firstLines((await readNotes(ctx.home)).notes, todayOf(ctx), target.key)
  const frame: Frame = {
    title: target.title,
    date: dateText(target.readyBy, todayOf(ctx)),
    music: [
      ...first,
      slot?.says ?? '',
      target.top ? `goal ${goalNumbers(target.goal, target.top)}` : '',
      target.rhythm ? quickNotesWords(tempo, target.rhythm) : '',
      target.said ?? '',
      target.music,
      ...all.notes,
      settings.note() ?? '',
    ]
      .filter(Boolean)
      .join('   '),
    earlier: from?.earlier ?? verdictsOn(all.of(target.key), todayOf(ctx)),
    ...(short ? { cold: '', coldIsOpen: false } : coldOf(ctx, all, target)),
    ...(short ? {} : { beside: (slot ? besideSlot : besideOf)(ctx, all, target, settings.now()) }),
  }
  const ending = async (c: Conductor): Promise<Ending> => {
    const { ladder } = c.session()
    const now = await known(ctx)
    const { notes } = await readNotes(ctx.home)
    const { pain, lines } = cautionsOf(now.visits, notes, instantOf(ctx))
    const offer = short || slot || pain ? null : offerFor(now, target, todayOf(ctx))
    const here = ladder.rungs[ladder.at] ?? target.goal
    return {
      tomorrow: openingTomorrow(target, all, ladder.ceiling, here),
      pain,
      cautions: lines,
      ...(offer ? { offer: offerLine(offer, terminal.k === 'plain') } : {}),
    }
  }
  const shared = {
    terminal: terminal.on,
    timing: ctx.clock,
    controls: controlsOf(settings.now()),
    feet: room.lock,
    short: short || slot !== undefined,
    sound,
    levels: levelsOf(settings.now()),
    frame,
    conductor,
    ending,
    begins,
    lock: room.keys,
    wrong: short ? null : { names: wrongsOf(bows(settings.now())), keep: wrongsKept(ctx, target.key) },
    louder: (levels: Levels) => void settings.change({ levels: { ...levels } }).catch(() => {}),
  }
  const { practiceScreen } = await import('../screens/practice/screen.tsx')
  const left = await practiceScreen(shared)
  return { ...left, earlier: frame.earlier }
}

/** Opens what visits need, one after another, and closes it again whatever happens. */
export const inRoom = async <T>(
  ctx: Context,
  how: Manner,
  stage: Stage | undefined,
  play: (room: Room) => Promise<T>,
): Promise<Result<T>> => {
  const settings = await openSettings(ctx.home, ctx.clock.wall)
  const set = settings.now()
  const one = await acquirePractice(ctx.home)
  if (!one.ok) return failed(one.message)
  try {
    const journal = await openJournal(ctx.home, { ...ctx.clock, chance: ctx.chance })
    const sound = startSound(ctx, outputOf(how.output, set), set)
    const io = { now: ctx.clock.now, stdin: process.stdin, stdout: process.stdout, feet: feetOf(set) }
    const terminal: Room['terminal'] = ctx.plain
      ? { k: 'plain', on: (await import('../terminal/open-plain.ts')).openPlain(io) }
      : {
          k: 'screen',
          on: stage?.terminal ?? (await import('../terminal/open-terminal.ts')).openTerminal(io),
        }
    try {
      const done = await attemptLater(need =>
        play({
          ctx,
          need,
          settings,
          after: how.after ?? set.after,
          rest: { ...REST, asLong: (how.rest ?? set.rest) === 'as-long' },
          keys: keyLock((how.keys ?? set.keys) === 'pedals'),
          journal,
          sound,
          terminal,
          lock: stage?.lock ?? pedalLock({ lockMs: set.lock }),
        }),
      )
      await journal.close()
      return done
    } finally {
      if (!stage) terminal.on.close()
      await sound.close()
    }
  } finally {
    await one.release()
  }
}
