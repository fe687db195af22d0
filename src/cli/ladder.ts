import type { Context, Outcome } from '../app/context.ts'
import { rungs } from '../ladder/rungs.ts'
import { quickStart } from '../ladder/start.ts'
import { decimal } from '../music/fraction.ts'
import { noteValueName } from '../music/note-value.ts'
import { must } from './command.ts'
import type { Typed } from './commands.ts'
import { parseEnds, parseSteps } from './options.ts'

/** Prints the rungs from start to goal. */
export const ladderCommand = (_: Context, t: Typed<'ladder'>): Outcome => {
  const { start, goal } = must(parseEnds(t))
  const all = must(rungs(start ?? quickStart(goal), goal, must(parseSteps(t)), t.down ? 'down' : 'up'))
  const unit = noteValueName(goal.unit)
  return {
    lines: [`${all.length} rungs, ${unit} = ${all.map(r => decimal(r.bpm)).join(' ')}`],
    json: {
      unit,
      start: all[0] ?? goal,
      goal,
      rungs: all.map(r => Number(decimal(r.bpm))),
    },
  }
}
