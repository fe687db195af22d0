import type { Context, Outcome } from '../app/context.ts'
import { giveDemo } from '../app/demo/give.ts'
import { problem } from '../music/result.ts'
import { must, Stop } from './command.ts'
import type { Typed } from './commands.ts'
import { parseOutput } from './options.ts'

const NEEDS =
  'The demonstration needs a terminal; --plain gives lines instead, and --fast needs neither terminal nor sound.'

/** A demonstration; its journal stays where a home was named, and else leaves no trace. */
export const demoCommand = async (ctx: Context, t: Typed<'demo'>): Promise<Outcome> => {
  const { fast = false, out } = t
  if (fast && t.output !== undefined && t.output !== 'silent')
    must(problem('--output', t.output, 'silent, or leave it out: --fast has no sound'))
  if (!fast && !ctx.tty && !ctx.plain) throw new Stop(2, NEEDS)
  const output = must(parseOutput(t.output))
  return must(
    await giveDemo(ctx, {
      fast,
      scratch: !ctx.homeNamed,
      out,
      output,
    }),
  )
}
