import type { Context, Outcome } from '../app/context.ts'
import { readNow, todayOf } from '../app/now.ts'
import { saveAs } from '../app/preset-store.ts'
import { warmUpNamed } from '../app/presets.ts'
import { inPracticeRoom, soundingIn } from '../app/room.ts'
import { warmUpLog } from '../app/warm-up-log.ts'
import { RATE } from '../sound/stream.ts'
import { warmedUp } from '../warm-up/exercise.ts'
import { exercisesOf } from '../warm-up/exercises.ts'
import { parseHow, type Typed } from './options.ts'
import { must } from './stop.ts'

/** A warm-up on screen, or as lines with `--plain`. It asks for no verdict; what was played is kept in the journal. */
export const warmupCommand = async (ctx: Context, name: string | undefined, t: Typed): Promise<Outcome> => {
  const now = await readNow(ctx)
  const warmUp = must(warmUpNamed(await now.presets(), name))
  if (ctx.json) return { json: warmUp }
  const how = must(parseHow(ctx, t.output, 'The warm-up'))
  const left = await inPracticeRoom(ctx, now, { how }, async room => {
    const { warmUpScreen } = await import('../screens/warmup/screen.ts')
    return warmUpScreen({
      ...(await soundingIn(room)),
      title: warmUp.title,
      exercises: exercisesOf(warmUp, {
        today: todayOf(ctx),
        remembered: warmedUp(now.practiced.visits),
        tuning: room.settings.now(),
      }),
      rate: RATE,
      log: warmUpLog(room.journal),
      save: (name: string) => saveAs(ctx, room.practiced().visits, name, warmUp.name),
    })
  })
  return must(left)
}
