import { type Context, type Outcome, Stop } from '../app/context.ts'
import { findTarget } from '../app/find-target.ts'
import { visit } from '../app/play-visit.ts'
import type { Typed } from './options.ts'

export { levelsOf, outputOf, startSound } from '../app/preferences.ts'

/** The practice screen, or lines with `--plain`. */
export const practiceCommand = async (ctx: Context, name: string | undefined, t: Typed): Promise<Outcome> => {
  const target = await findTarget(ctx, name, t)
  if (!ctx.tty && !ctx.plain)
    throw new Stop(2, 'The practice screen needs a terminal; --plain gives lines instead of a screen.')
  return visit(ctx, target, t)
}
