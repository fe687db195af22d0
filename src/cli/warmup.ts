import type { Context, Outcome } from '../app/context.ts'
import { known, todayOf } from '../app/known.ts'
import { controlsOf, levelsOf } from '../app/preferences.ts'
import { saveAs } from '../app/preset-store.ts'
import { presetsOf, warmUpNamed } from '../app/presets.ts'
import { inTerminal, onStage } from '../app/stage.ts'
import { warmUpLog } from '../app/warm-up-log.ts'
import type { Levels } from '../click/voices.ts'
import { RATE } from '../sound/stream.ts'
import { openJournal } from '../store/journal.ts'
import { pedalLock } from '../terminal/lock.ts'
import { warmedUp } from '../warm-up/exercise.ts'
import { exercisesOf } from '../warm-up/exercises.ts'
import { parseOutput, type Typed } from './options.ts'
import { must } from './stop.ts'

/** A warm-up on screen, or as lines with `--plain`. It asks for no verdict; what was played is kept in the journal. */
export const warmupCommand = async (ctx: Context, name: string | undefined, t: Typed): Promise<Outcome> => {
  const warmUp = must(warmUpNamed(await presetsOf(ctx.home), name))
  const output = must(parseOutput(t.output))
  if (ctx.json) return { json: warmUp }
  const left = await onStage(ctx, { what: 'The warm-up', output }, async ({ sound, settings, keep }) => {
    const remembered = warmedUp((await known(ctx)).visits)
    const journal = await openJournal(ctx.home, { ...ctx.clock, chance: ctx.chance })
    const { warmUpScreen } = await import('../screens/warmup/screen.tsx')
    const parts = {
      sound,
      timing: ctx.clock,
      title: warmUp.title,
      exercises: exercisesOf(warmUp, { today: todayOf(ctx), remembered, tuning: settings }),
      controls: controlsOf(settings),
      lock: pedalLock({ lockMs: settings.lock }),
      rate: RATE,
      log: warmUpLog(journal),
      levels: levelsOf(settings),
      louder: (levels: Levels) => keep({ levels: { ...levels } }),
      save: (name: string) => saveAs(ctx, name, warmUp.name),
    }
    try {
      return await inTerminal<Outcome>(ctx, settings, terminal => warmUpScreen({ ...parts, terminal }))
    } finally {
      await journal.close()
    }
  })
  return must(left)
}
