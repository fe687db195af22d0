import type { Command } from 'commander'
import type { Action } from './preset-commands.ts'
import type { TodayTyped } from './today.ts'

/** `today` and `progress`: the day ahead and the way so far. */
export const withPlan = (program: Command, action: Action): void => {
  program
    .command('today')
    .description('the plan of a day: what to practice, from when, from which tempo')
    .option('--minutes <number>', 'minutes there are, rests included (40)')
    .option('--date <date>', 'a day to come: 2026-03-14')
    .action(action(async (ctx, t: TodayTyped) => (await import('./today.ts')).todayCommand(ctx, t)))
  program
    .command('progress [name]')
    .description('how each section climbed, and what may come')
    .action(
      action(async (ctx, name: string | undefined) =>
        (await import('./progress.ts')).progressCommand(ctx, name),
      ),
    )
}
