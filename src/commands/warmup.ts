import type { Body } from '../ladder/event.ts'
import { DEFAULT_RULES } from '../ladder/rules.ts'
import { warmedUp, warmUpKey } from '../plan/warm-up.ts'
import type { WarmUpLog } from '../screens/warmup/screen.tsx'
import { RATE } from '../sound/stream.ts'
import { type Journal, openJournal } from '../store/journal.ts'
import { acquirePractice } from '../store/practice-lock.ts'
import { openSettings } from '../store/settings.ts'
import { type Context, type Outcome, Stop } from './context.ts'
import { known, todayOf } from './known.ts'
import type { Typed } from './options.ts'
import { outputOf, startSound } from './preferences.ts'
import { loadPresets, warmUpNamed } from './presets.ts'
import { exercisesOf } from './warm-up-exercises.ts'

/** An exercise is a visit of its own, its turns are repetitions that nobody judged. */
export const warmUpLog = (journal: Pick<Journal, 'append'>): WarmUpLog => {
  const put = async (body: Body): Promise<void> => {
    await journal.append([body])
  }
  return {
    begin: w => put({ k: 'visit', key: warmUpKey(w), rungs: [w.tempo], at: 0, rules: DEFAULT_RULES }),
    turn: (rep, tempo) => put({ k: 'unjudged', rep, tempo, why: 'silent' }),
  }
}

/** A warm-up on screen, or as lines with `--plain`. It asks for no verdict; what was played is kept in the journal. */
export const warmupCommand = async (ctx: Context, name: string | undefined, t: Typed): Promise<Outcome> => {
  await loadPresets(ctx.home)
  const warmUp = warmUpNamed(name)
  if (ctx.json) return { json: warmUp }
  if (!ctx.tty && !ctx.plain)
    throw new Stop(2, 'The warm-up screen needs a terminal; --plain gives lines instead of a screen.')
  const settings = (await openSettings(ctx.home, ctx.clock.wall)).now()
  const output = outputOf(t.output, settings)
  const remembered = warmedUp((await known(ctx)).visits)
  const exercises = exercisesOf(warmUp, { today: todayOf(ctx), remembered, tuning: settings })
  const lock = await acquirePractice(ctx.home)
  if (!lock.ok) throw new Stop(1, lock.message)
  try {
    const journal = await openJournal(ctx.home, { ...ctx.clock, chance: ctx.chance })
    const sound = startSound(ctx, output, settings)
    const { openTerminal } = await import('../terminal/open-terminal.ts')
    const { openPlain } = await import('../terminal/open-plain.ts')
    const { warmUpScreen } = await import('../screens/warmup/screen.tsx')
    const io = { now: ctx.clock.now, stdin: process.stdin, stdout: process.stdout }
    const terminal = ctx.plain ? openPlain(io) : openTerminal(io)
    try {
      return await warmUpScreen({
        terminal,
        sound,
        timing: ctx.clock,
        title: warmUp.title,
        exercises,
        pedals: { right: settings.right, left: settings.left },
        rate: RATE,
        log: warmUpLog(journal),
      })
    } finally {
      terminal.close()
      await sound.close()
      await journal.close()
    }
  } finally {
    await lock.release()
  }
}
