import type { Context, Outcome } from '../app/context.ts'
import { known, todayOf } from '../app/known.ts'
import { levelsOf } from '../app/preferences.ts'
import { saveAs } from '../app/preset-store.ts'
import { presetsOf, warmUpNamed } from '../app/presets.ts'
import { inTerminal, onStage } from '../app/stage.ts'
import type { Levels } from '../click/voices.ts'
import type { Body } from '../ladder/event.ts'
import { warmUpKey } from '../ladder/key.ts'
import { DEFAULT_RULES } from '../ladder/rules.ts'
import type { WarmUpLog } from '../screens/warmup/screen.tsx'
import { RATE } from '../sound/stream.ts'
import { type Journal, openJournal } from '../store/journal.ts'
import { pedalLock } from '../terminal/lock.ts'
import { warmedUp } from '../warm-up/exercise.ts'
import { exercisesOf } from '../warm-up/exercises.ts'
import type { Typed } from './options.ts'

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
  const warmUp = warmUpNamed(await presetsOf(ctx.home), name)
  if (ctx.json) return { json: warmUp }
  return onStage(ctx, { what: 'The warm-up', output: t.output }, async ({ sound, settings, keep }) => {
    const remembered = warmedUp((await known(ctx)).visits)
    const journal = await openJournal(ctx.home, { ...ctx.clock, chance: ctx.chance })
    const { warmUpScreen } = await import('../screens/warmup/screen.tsx')
    const parts = {
      sound,
      timing: ctx.clock,
      title: warmUp.title,
      exercises: exercisesOf(warmUp, { today: todayOf(ctx), remembered, tuning: settings }),
      pedals: { right: settings.right, left: settings.left },
      lock: pedalLock({ lockMs: settings.lock }),
      rate: RATE,
      log: warmUpLog(journal),
      levels: levelsOf(settings),
      louder: (levels: Levels) => keep({ levels: { ...levels } }),
      save: (name: string) => saveAs(ctx, name, warmUp.name),
    }
    try {
      return await inTerminal<Outcome>(
        ctx,
        settings,
        terminal => warmUpScreen({ ...parts, terminal }),
        terminal => warmUpScreen({ ...parts, terminal }),
      )
    } finally {
      await journal.close()
    }
  })
}
