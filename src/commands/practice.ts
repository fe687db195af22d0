import { DEFAULT_LEVELS, type Levels } from '../click/voices.ts'
import { problem } from '../music/result.ts'
import { daysAway } from '../screens/dates.ts'
import type { Conductor } from '../screens/practice/conduct.ts'
import type { Setup } from '../screens/practice/session.ts'
import { beginSound } from '../sound/open-sound.ts'
import { DEVICES, type OutputName } from '../sound/outputs/output.ts'
import type { Sound } from '../sound/sound.ts'
import { RATE } from '../sound/stream.ts'
import { openJournal } from '../store/journal.ts'
import { acquirePractice } from '../store/practice-lock.ts'
import { openSettings, type Settings } from '../store/settings.ts'
import { type PedalLock, pedalLock } from '../terminal/lock.ts'
import type { Terminal } from '../terminal/open-terminal.ts'
import { type Context, must, type Outcome, Stop } from './context.ts'
import { daysBetween, earlierToday, known, openingNow, openingTomorrow, todayOf } from './known.ts'
import type { Typed } from './options.ts'
import { findTarget, type Target } from './target.ts'

const OUTPUTS: readonly string[] = ['auto', 'silent', ...DEVICES]

/** Seconds of rest after a clean repetition, and after one that was not. */
export const REST = { clean: 2, slip: 4 }

export const outputOf = (typed: string | undefined, settings: Settings): 'auto' | OutputName => {
  const name = typed ?? settings.output ?? 'auto'
  if (!OUTPUTS.includes(name)) return must(problem('output', name, OUTPUTS.join(', ')))
  return name as 'auto' | OutputName
}

export const levelsOf = (settings: Settings): Levels => ({
  ...DEFAULT_LEVELS,
  ...(settings.levels as Levels | undefined),
})

const afterOf = (typed: string | undefined, settings: Settings): 'wait' | 'go-on' => {
  if (typed === undefined || typed === 'wait' || typed === 'go-on') return typed ?? settings.after
  return must(problem('after', typed, 'wait or go-on'))
}

/** "ready by 2026-03-14, in 4 days" */
export const dateText = (readyBy: string | null, today: string): string => {
  if (readyBy === null) return ''
  return `ready by ${readyBy}, ${daysAway(daysBetween(today, readyBy))}`
}

/** Begins to open the sound; with a clock that was set for tests it is silent. */
export const startSound = (ctx: Context, output: 'auto' | OutputName, settings: Settings): Sound =>
  beginSound({
    output: ctx.clock.real ? output : 'silent',
    now: ctx.clock.now,
    player: new URL('./player.js', import.meta.url),
    offsetMs: settings.latency,
    levels: levelsOf(settings),
    deep: settings.steady,
    silent: ctx.clock,
  })

/** One visit on the practice screen, or as lines with `--plain`. */
export const practiceCommand = async (ctx: Context, name: string | undefined, t: Typed): Promise<Outcome> => {
  const target = await findTarget(ctx, name, t)
  if (!ctx.tty && !ctx.plain)
    throw new Stop(2, 'The practice screen needs a terminal; --plain gives lines instead of a screen.')
  return visit(ctx, target, t)
}

/** A terminal that another screen has opened and will close, and what it knows of the feet on the pedals. */
export type Stage = { readonly terminal: Terminal; readonly lock: PedalLock }

/** Closing lines; `quit` = the player left the program (Ctrl+C), not only the visit. */
export type Visited = Outcome & { readonly quit: boolean }

/** Opens what a visit needs, one after another, and closes it again whatever happens. */
export const visit = async (ctx: Context, target: Target, t: Typed, stage?: Stage): Promise<Visited> => {
  const settings = await openSettings(ctx.home, ctx.clock.wall)
  const output = outputOf(t.output, settings.now())
  const after = afterOf(t.after, settings.now())
  const all = await known(ctx)
  const history = all.of(target.key)
  const open = must(openingNow(ctx, history, target))
  const lock = await acquirePractice(ctx.home)
  if (!lock.ok) throw new Stop(1, lock.message)
  try {
    const journal = await openJournal(ctx.home, { ...ctx.clock, chance: ctx.chance })
    const sound = startSound(ctx, output, settings.now())
    const setup: Setup = {
      key: target.key,
      form: target.form,
      firstMeasure: target.firstMeasure,
      opening: {
        rungs: open.rungs,
        at: open.at,
        rules: { ...target.rules, ...(open.find ? { find: true } : {}) },
      },
      ceiling: history?.ceiling ?? null,
      countIn: target.countIn,
      subdivide: target.subdivide,
      pedals: settings.now().pedals,
      after,
      rest: REST,
      rate: RATE,
    }
    const { conduct } = await import('../screens/practice/conduct.ts')
    const conductor = (changed: () => void): Conductor =>
      conduct({
        setup,
        sound,
        append: bodies => journal.append(bodies),
        timing: ctx.clock,
        lock: stage?.lock ?? pedalLock(),
        changed,
      })
    const frame = {
      title: target.title,
      date: dateText(target.readyBy, todayOf(ctx)),
      music: [target.music, ...all.notes, settings.note() ?? ''].filter(Boolean).join('  '),
      earlier: earlierToday(ctx, history),
      pedals: { right: settings.now().right, left: settings.now().left },
    }
    const tomorrow = async (c: Conductor) => {
      const { ladder } = c.session()
      return openingTomorrow(history, ladder.ceiling, ladder.rungs[ladder.at] ?? target.goal, target)
    }
    try {
      const left = await (ctx.plain
        ? plainVisit(ctx, { frame, conductor, tomorrow })
        : screenVisit(ctx, {
            frame,
            conductor,
            tomorrow,
            sound,
            levels: levelsOf(settings.now()),
            keep: settings.change,
            ...(stage ? { stage } : {}),
          }))
      await journal.close()
      return { lines: left.lines, quit: left.quit }
    } finally {
      await sound.close()
    }
  } finally {
    await lock.release()
  }
}

type Parts = {
  readonly frame: Parameters<typeof import('../screens/practice/plain.ts').practicePlain>[0]['frame']
  readonly conductor: (changed: () => void) => Conductor
  readonly tomorrow: (
    c: Conductor,
  ) => ReturnType<Parameters<typeof import('../screens/practice/plain.ts').practicePlain>[0]['tomorrow']>
}

const plainVisit = async (ctx: Context, o: Parts) => {
  const { openPlain } = await import('../terminal/open-plain.ts')
  const { practicePlain } = await import('../screens/practice/plain.ts')
  const terminal = openPlain({ now: ctx.clock.now, stdin: process.stdin, stdout: process.stdout })
  try {
    return await practicePlain({ terminal, ...o })
  } finally {
    terminal.close()
  }
}

const screenVisit = async (
  ctx: Context,
  o: Parts & {
    sound: Sound
    levels: Levels
    keep: (part: Partial<Settings>) => Promise<void>
    stage?: Stage
  },
) => {
  const { openTerminal } = await import('../terminal/open-terminal.ts')
  const { practiceScreen } = await import('../screens/practice/screen.tsx')
  const terminal =
    o.stage?.terminal ?? openTerminal({ now: ctx.clock.now, stdin: process.stdin, stdout: process.stdout })
  try {
    return await practiceScreen({
      terminal,
      timing: ctx.clock,
      louder: levels => void o.keep({ levels: { ...levels } }).catch(() => {}),
      ...o,
    })
  } finally {
    if (!o.stage) terminal.close()
  }
}
