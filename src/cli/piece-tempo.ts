import type { Context, Outcome } from '../app/context.ts'
import { setTrueTempo } from '../app/true-tempo.ts'
import { parseCapacity } from '../repertoire/breath-advice.ts'
import { ifSaid, must } from './command.ts'
import type { Typed } from './commands.ts'

/** The true tempo after a rehearsal: all goals of the piece in one ratio; what was practiced stays. */
export const pieceTempoCommand = async (
  ctx: Context,
  name: string,
  text: string,
  t: Typed<'piece tempo'>,
): Promise<Outcome> => {
  const capacity = ifSaid(t.breathSeconds, parseCapacity) ?? null
  return must(await setTrueTempo(ctx, name, text, capacity))
}
