import type { Context, Outcome } from '../app/context.ts'
import { readNow } from '../app/now.ts'
import { playWarmUp } from '../app/play-warm-up.ts'
import { warmUpNamed } from '../app/presets.ts'
import { inPracticeRoom } from '../app/room.ts'
import { must } from './command.ts'
import type { Typed } from './commands.ts'
import { parseHow } from './options.ts'

/** A warm-up on screen, or as lines with `--plain`. */
export const warmupCommand = async (
  ctx: Context,
  name: string | undefined,
  t: Typed<'warmup'>,
): Promise<Outcome> => {
  const now = await readNow(ctx)
  const warmUp = must(warmUpNamed(await now.presets(), name))
  if (ctx.json) return { json: warmUp }
  const how = must(parseHow(ctx, t.output, 'The warm-up'))
  return must(await inPracticeRoom(ctx, now, { how }, room => playWarmUp(room, warmUp)))
}
