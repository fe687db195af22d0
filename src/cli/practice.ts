import type { Context, Outcome } from '../app/context.ts'
import { findTarget } from '../app/find-target.ts'
import { readNow } from '../app/now.ts'
import { visit } from '../app/play-visit.ts'
import { must, Stop } from './command.ts'
import type { Typed } from './commands.ts'
import { parseAsked, parseManner, parseSeam } from './options.ts'

/** The practice screen, or lines with `--plain`. */
export const practiceCommand = async (
  ctx: Context,
  name: string | undefined,
  t: Typed<'practice'>,
): Promise<Outcome> => {
  const now = await readNow(ctx)
  const asked = must(parseAsked(t, await now.presets()))
  const how = must(parseManner(t))
  const target = must(await findTarget(now, name, asked, must(parseSeam(t))))
  if (!ctx.tty && !ctx.plain)
    throw new Stop(2, 'The practice screen needs a terminal; --plain gives lines instead of a screen.')
  return must(await visit(ctx, now, target, how))
}
