import type { TakeKind } from '../ladder/key.ts'
import { clickFor, clickWords, type Rhythm, suits } from '../music/rhythm.ts'
import { goalNumbers, spoken, type Tempo } from '../music/tempo.ts'
import type { Conductor, Held } from '../screens/practice/conduct.ts'
import { fastAfter } from '../screens/practice/fast.ts'
import type { Frame, Left } from '../screens/practice/screen.tsx'
import type { Setup } from '../screens/practice/session.ts'
import type { Ending, Wrong } from '../screens/practice/words.ts'
import type { Sound } from '../sound/sound.ts'
import { RATE } from '../sound/stream.ts'
import { type Journal, openJournal } from '../store/journal.ts'
import { addNotes } from '../store/notes.ts'
import { acquirePractice } from '../store/practice-lock.ts'
import { openSettings, type SettingsStore } from '../store/settings.ts'
import { type PedalLock, pedalLock } from '../terminal/lock.ts'
import type { PlainTerminal } from '../terminal/open-plain.ts'
import type { Terminal } from '../terminal/open-terminal.ts'
import { careLines, firstLines } from './care.ts'
import { type Context, must, type Outcome, Stop } from './context.ts'
import { earlierToday, type Known, known, openingOf, openingTomorrow, takesOf, todayOf } from './known.ts'
import type { Typed } from './options.ts'
import { afterOf, dateText, levelsOf, outputOf, REST, startSound } from './preferences.ts'
import { usualRhythms } from './presets.ts'
import { coldTempo, type End, endNamed, takeNamed, takeOf } from './takes.ts'
import { altered, type Target } from './target.ts'

/** A terminal that another screen has opened and will close, and what it knows of the feet on the pedals. */
export type Stage = { readonly terminal: Terminal; readonly lock: PedalLock }

/** Closing lines; `quit` = the player left the program (Ctrl+C), not only the visit. */
export type Visited = Outcome & { readonly quit: boolean }

/** What all visits of one sitting share. */
type Room = {
  readonly ctx: Context
  readonly settings: SettingsStore
  readonly after: 'wait' | 'go-on'
  readonly journal: Journal
  readonly sound: Sound
  readonly lock: PedalLock
  readonly terminal:
    | { readonly k: 'screen'; readonly on: Terminal }
    | { readonly k: 'plain'; readonly on: PlainTerminal }
}

/** One rhythm of a round: two clean ones or four tries at one tempo. */
const ROUND = { clean: 2, tries: 4 }

/** `begins`: by itself, after the usual rest. `from`: where it was left for something else, and today's verdicts before it. */
type Part = {
  readonly setup: Setup
  readonly target: Target
  readonly short: boolean
  readonly begins?: boolean
  readonly from?: Held & Pick<Frame, 'earlier'>
}

const setupOf = (room: Room, all: Known, target: Target): Setup => {
  const open = must(openingOf(room.ctx, all, target))
  return {
    key: target.key,
    form: target.form,
    numbers: target.numbers,
    goal: target.goal,
    ...(target.top ? { top: target.top } : {}),
    rhythm: target.rhythm,
    opening: {
      rungs: open.rungs,
      at: open.at,
      rules: { ...target.rules, ...(open.find ? { find: true } : {}) },
    },
    ceiling: all.of(target.key)?.ceiling ?? null,
    click: target.click,
    ...(target.fast ? { fast: target.fast } : {}),
    pedals: room.settings.now().pedals,
    after: room.after,
    rest: REST,
    rate: RATE,
  }
}

/** The same music in a rhythm, at the click at which its quick notes run as the even ones did. */
const roundPart = (room: Room, all: Known, even: Target, rung: Tempo, r: Rhythm): Part => {
  const target = altered(even, r)
  const setup = setupOf(room, all, { ...target, fast: null })
  const rules = { up: { k: 'row', n: ROUND.clean }, slips: 0, top: ROUND.clean } as const
  return {
    target,
    short: true,
    setup: { ...setup, opening: { rungs: [clickFor(rung, r)], at: 0, rules }, ends: ROUND },
  }
}

/** One repetition apart from the ladder: its key, music, click and tempo are those of the take. */
const takePart = (
  room: Room,
  all: Known,
  target: Target,
  kind: TakeKind,
  rung: Tempo | null,
  end: End,
): Part => {
  const take = takeOf(kind, target, all, rung, end)
  const rules = { up: { k: 'row', n: 1 }, slips: 0, top: 1 } as const
  const alone = setupOf(room, all, { ...target, fast: null })
  const setup = { ...alone, form: take.form, numbers: take.numbers, click: take.click }
  return {
    target: { ...target, key: take.key, title: take.title },
    short: true,
    setup: {
      ...setup,
      key: take.key,
      ceiling: all.of(take.key)?.ceiling ?? null,
      opening: { rungs: [take.tempo], at: 0, rules },
      ends: { clean: 1, tries: 1 },
    },
  }
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
    t.rhythm === null && earlierToday(ctx, all.of(t.key)).verdicts === 0 && !!all.of(t.key)?.ceiling
  const never = (all.of(t.key)?.visits.length ?? 0) === 0
  const first = never ? `Hear the goal first? l: its click at ${spoken(t.goal)}, once.` : ''
  return {
    cold: open ? `A cold take first? c: once, at ${spoken(coldTempo(all, t))}.${otherEnd(all, t)}` : first,
    coldIsOpen: open,
  }
}

/** Keeps what went wrong beside the verdict; the note is on disk before it is said. */
const keepWrong = async (
  ctx: Context,
  key: string,
  what: Wrong,
  place: string | undefined,
): Promise<string> => {
  try {
    await addNotes(ctx.home, { ...ctx.clock, chance: ctx.chance }, [
      { k: 'wrong', text: '', what, key, ...(place ? { place } : {}) },
    ])
    return `Noted: ${what}.`
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
}

/** One visit: from its opening to finishing. A short one has no closing view. */
const play = async (room: Room, all: Known, part: Part): Promise<Left & Pick<Frame, 'earlier'>> => {
  const { setup, target, short, begins = false, from } = part
  const { ctx, settings, journal, sound, terminal } = room
  const { conduct } = await import('../screens/practice/conduct.ts')
  const history = all.of(target.key)
  const conductor = (changed: () => void): Conductor =>
    conduct({
      setup,
      sound,
      append: bodies => journal.append(bodies, from?.session.events[0]?.visit),
      timing: ctx.clock,
      lock: room.lock,
      changed,
      ...(from ? { from } : {}),
    })
  const tempo = setup.opening.rungs[setup.opening.at] ?? target.goal
  const first = await firstLines(ctx, target.key)
  const frame: Frame = {
    title: target.title,
    date: dateText(target.readyBy, todayOf(ctx)),
    music: [
      ...first,
      target.top ? `goal ${goalNumbers(target.goal, target.top)}` : '',
      target.rhythm ? clickWords(tempo, target.rhythm) : '',
      target.music,
      ...all.notes,
      settings.note() ?? '',
    ]
      .filter(Boolean)
      .join('   '),
    earlier: from?.earlier ?? earlierToday(ctx, history),
    ...(short ? { cold: '', coldIsOpen: false } : coldOf(ctx, all, target)),
    pedals: { right: settings.now().right, left: settings.now().left },
  }
  const ending = async (c: Conductor): Promise<Ending> => {
    const { ladder } = c.session()
    const { pain, lines } = await careLines(ctx, await known(ctx))
    const here = ladder.rungs[ladder.at] ?? target.goal
    return { tomorrow: openingTomorrow(history, ladder.ceiling, here, target), pain, care: lines }
  }
  if (terminal.k === 'plain') {
    const { practicePlain } = await import('../screens/practice/plain.ts')
    const left = await practicePlain({ terminal: terminal.on, frame, conductor, ending, begins })
    return { ...left, earlier: frame.earlier }
  }
  const { practiceScreen } = await import('../screens/practice/screen.tsx')
  const left = await practiceScreen({
    terminal: terminal.on,
    sound,
    levels: levelsOf(settings.now()),
    timing: ctx.clock,
    frame,
    conductor,
    ending,
    wrong: short ? null : (what, place) => keepWrong(ctx, target.key, what, place),
    short,
    begins,
    louder: levels => void settings.change({ levels: { ...levels } }).catch(() => {}),
  })
  return { ...left, earlier: frame.earlier }
}

/** A round: the passage in each of its rhythms, at the click at which the quick notes run as now. */
const round = async (room: Room, all: Known, target: Target, rung: Tempo): Promise<Left | null> => {
  if (target.direction === 'down') return null
  const chosen = target.rhythms.length > 0 ? target.rhythms : usualRhythms()
  for (const r of chosen.filter(c => target.form.meters.every(m => suits(c, target.run, m.meter)))) {
    const left = await play(room, all, roundPart(room, all, target, rung, r))
    if (left.left) return left
  }
  return null
}

const take = async (
  room: Room,
  target: Target,
  kind: TakeKind,
  rung: Tempo | null = null,
  end: End = null,
  begins = false,
): Promise<Left> => {
  const all = await known(room.ctx)
  return play(room, all, { ...takePart(room, all, target, kind, rung, end), begins })
}

/**
 * The visit; and as often as the player asks, or the rule of slow and fast says, a take or a round of rhythms. After it
 * the same visit goes on where it was.
 */
const sit = async (room: Room, target: Target, first: TakeKind | null, end: End): Promise<Left> => {
  const once = first && (await take(room, target, first, null, end))
  if (once?.quit) return once
  let held: Part['from']
  let begins = false
  for (;;) {
    const all = await known(room.ctx)
    const setup = held?.session.setup ?? setupOf(room, all, target)
    const left = await play(room, all, {
      setup,
      target,
      short: false,
      begins,
      ...(held ? { from: held } : {}),
    })
    const { next } = left
    if (left.quit || !next) return left
    held = { ...left.held, earlier: left.earlier }
    // By the rule, not by a key: then it also goes on by itself.
    begins = fastAfter(left.held.session)?.k === next.k
    const then =
      next.k === 'round'
        ? await round(room, all, target, next.rung)
        : await take(room, target, next.k, next.rung, next.other ? 'other' : null, begins)
    if (then?.quit) return then
  }
}

/** Opens what a visit needs, one after another, and closes it again whatever happens. */
export const visit = async (ctx: Context, target: Target, t: Typed, stage?: Stage): Promise<Visited> => {
  const settings = await openSettings(ctx.home, ctx.clock.wall)
  const output = outputOf(t.output, settings.now())
  const after = afterOf(t.after, settings.now())
  takeNamed(t.take)
  const end = endNamed(t.end, target)
  must(openingOf(ctx, await known(ctx), target))
  const one = await acquirePractice(ctx.home)
  if (!one.ok) throw new Stop(1, one.message)
  try {
    const journal = await openJournal(ctx.home, { ...ctx.clock, chance: ctx.chance })
    const sound = startSound(ctx, output, settings.now())
    const io = { now: ctx.clock.now, stdin: process.stdin, stdout: process.stdout }
    const terminal: Room['terminal'] = ctx.plain
      ? { k: 'plain', on: (await import('../terminal/open-plain.ts')).openPlain(io) }
      : {
          k: 'screen',
          on: stage?.terminal ?? (await import('../terminal/open-terminal.ts')).openTerminal(io),
        }
    try {
      const room: Room = { ctx, settings, after, journal, sound, terminal, lock: stage?.lock ?? pedalLock() }
      const left = await sit(room, target, takeNamed(t.take), end)
      await journal.close()
      return { lines: left.lines, quit: left.quit }
    } finally {
      if (!stage) terminal.on.close()
      await sound.close()
    }
  } finally {
    await one.release()
  }
}
