import { DEFAULT_LEVELS, type Levels } from '../click/voices.ts'
import { problem } from '../music/result.ts'
import type { Conductor } from '../screens/practice/conduct.ts'
import type { Setup } from '../screens/practice/session.ts'
import { beginSound } from '../sound/open-sound.ts'
import { DEVICES, type OutputName } from '../sound/outputs/output.ts'
import type { Sound } from '../sound/sound.ts'
import { openJournal } from '../store/journal.ts'
import { acquirePractice } from '../store/practice-lock.ts'
import { openSettings, type Settings } from '../store/settings.ts'
import { pedalLock } from '../terminal/lock.ts'
import { type Context, must, type Outcome, Stop } from './context.ts'
import { daysBetween, earlierToday, known, openingNow, openingTomorrow, todayOf } from './known.ts'
import type { Typed } from './options.ts'
import { findTarget, type Target } from './target.ts'

/** Frames a second, at every output. */
export const RATE = 48_000
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
  const days = daysBetween(today, readyBy)
  const when =
    days === 0 ? 'today' : days === 1 ? 'tomorrow' : days > 0 ? `in ${days} days` : `${-days} days ago`
  return `ready by ${readyBy}, ${when}`
}

/** Begins to open the sound; with a clock that was set for tests it is silent. */
export const startSound = (ctx: Context, output: 'auto' | OutputName, settings: Settings): Sound =>
  beginSound({
    output: ctx.clock.real ? output : 'silent',
    now: ctx.clock.now,
    player: new URL('./player.js', import.meta.url),
    offsetMs: settings.latency,
    levels: levelsOf(settings),
    silent: ctx.clock,
  })

/** One visit on the practice screen, or as lines with `--plain`. */
export const practiceCommand = async (ctx: Context, name: string | undefined, t: Typed): Promise<Outcome> => {
  const target = await findTarget(ctx, name, t)
  if (!ctx.tty && !ctx.plain)
    throw new Stop(2, 'The practice screen needs a terminal; --plain gives lines instead of a screen.')
  return visit(ctx, target, t)
}

/** Opens what a visit needs, one after another, and closes it again whatever happens. */
export const visit = async (ctx: Context, target: Target, t: Typed): Promise<Outcome> => {
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
        lock: pedalLock(),
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
          }))
      await journal.close()
      return { lines: left.lines, ...(left.quit ? { status: 0 } : {}) }
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
  o: Parts & { sound: Sound; levels: Levels; keep: (part: Partial<Settings>) => Promise<void> },
) => {
  const { openTerminal } = await import('../terminal/open-terminal.ts')
  const { practiceScreen } = await import('../screens/practice/screen.tsx')
  const terminal = openTerminal({ now: ctx.clock.now, stdin: process.stdin, stdout: process.stdout })
  try {
    return await practiceScreen({
      terminal,
      timing: ctx.clock,
      louder: levels => void o.keep({ levels: { ...levels } }).catch(() => {}),
      ...o,
    })
  } finally {
    terminal.close()
  }
}
