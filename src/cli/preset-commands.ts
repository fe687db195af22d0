import type { Command } from 'commander'
import type { Context, Outcome } from '../app/context.ts'
import { UP_TYPED } from '../ladder/rules.ts'
import type { SaveTyped } from './preset.ts'

/** Makes a handler of a command out of what it does, as `run` does for all commands. */
export type Action = <A extends unknown[]>(
  f: (ctx: Context, ...args: A) => Promise<Outcome> | Outcome,
) => (...args: unknown[]) => Promise<void>

/** `presets`, `preset add`, `preset save`. */
export const withPresets = (program: Command, action: Action): void => {
  program
    .command('presets')
    .description('warm-ups, rules and rhythms, with their words')
    .action(action(async ctx => (await import('./preset-list.ts')).presetsCommand(ctx)))
  const preset = program.command('preset').description('warm-ups, rules and rhythms to keep and share')
  preset
    .command('add <file>')
    .description('a preset that somebody shared')
    .option('--replace', 'in place of your own of that name')
    .action(
      action(async (ctx, file: string, t: { replace?: boolean }) =>
        (await import('./preset.ts')).presetAddCommand(ctx, file, t),
      ),
    )
  preset
    .command('save <name>')
    .description('save as a preset: another one as you play it now, or the rules of a ladder')
    .option('--from <preset>', 'a copy of this one; a warm-up with the tempos last used')
    .option('--step <step>', 'notch (the traditional scale), 4% or +4')
    .option('--clean <rule>', UP_TYPED)
    .option('--slips <number>', 'slips in a row that lower the rung; 0 = never')
    .option('--words <text>', 'how it is described')
    .option('--replace', 'in place of your own of that name')
    .action(
      action(async (ctx, name: string, t: SaveTyped) =>
        (await import('./preset.ts')).presetSaveCommand(ctx, name, t),
      ),
    )
}
