import type { Command } from 'commander'
import { UP_TYPED } from '../ladder/rules.ts'
import type { ClickTyped } from './click.ts'
import type { DemoTyped } from './demo.ts'
import { type Typed, withLadder, withMusic } from './options.ts'
import type { Action } from './preset-commands.ts'
import type { ReadTyped } from './read.ts'

/** `practice`, `click`, `read`, `warmup`, `demo`. */
export const withPlaying = (program: Command, action: Action): void => {
  withMusic(withLadder(program.command('practice [passage]')))
    .description('the practice screen: PIECE/PASSAGE, or --goal alone for a quick ladder')
    .option('--clean <rule>', UP_TYPED)
    .option('--rules <preset>', 'step, clean repetitions and slips as in a preset: usual, gentle ...')
    .option(
      '--slow-fast [what]',
      'after every ten repetitions one at the goal: beat (the usual one) or section',
    )
    .option('--rest <how>', 'usual, or as-long: each rest as long as what was played')
    .option('--keys <which>', 'all, or pedals: every other key does nothing')
    .option('--after <what>', 'wait (for the pedal) or go-on (by itself)')
    .option(
      '--take <kind>',
      'once and apart from the ladder: cold, entry (only the count-in sounds), goal, beat, silent, through (last time) or slow',
    )
    .option('--end <end>', 'of a take where the goal is a range: lower or upper; else in turn')
    .option('--output <name>', 'auto, silent, or an output as gradino sound lists them')
    .action(
      action(async (ctx, name: string | undefined, t: Typed) =>
        (await import('./practice.ts')).practiceCommand(ctx, name, t),
      ),
    )
  program
    .command('click')
    .description('just the click: a press starts and stops, taps find a tempo')
    .option('--tempo <tempo>', '60 (the default), 63.5, or dotted-quarter=80')
    .option('--meter <meter>', '4/4 (the default), 6/8, 2+2+3/8 ...')
    .option('--subdivide <number>', 'clicks to a beat')
    .option('--pulse <note value>', 'the note value that is counted, apart from that of the tempo')
    .option('--beats <numbers>', 'click on these beats only: 2,4')
    .option('--measures-on, --on <measures>', 'click so many measures, with --measures-off')
    .option('--measures-off, --off <measures>', 'then so many without')
    .option('--count-in <measures>', 'measures of count-in (none)')
    .option('--output <name>', 'auto, silent, or an output as gradino sound lists them')
    .action(action(async (ctx, t: ClickTyped) => (await import('./click.ts')).clickCommand(ctx, t)))
  program
    .command('read <name>')
    .description(
      'one slow reading of PIECE or PIECE/PASSAGE: a press marks a hard spot, marks become sections',
    )
    .option('--at <tempo>', 'its tempo; else the mark below 60 % of the goal')
    .option('--output <name>', 'auto, silent, or an output as gradino sound lists them')
    .action(
      action(async (ctx, name: string, t: ReadTyped) =>
        (await import('./read.ts')).readCommand(ctx, name, t),
      ),
    )
  program
    .command('warmup [name]')
    .description('a warm-up, by its name in gradino presets')
    .option('--output <name>', 'auto, silent, or an output as gradino sound lists them')
    .action(
      action(async (ctx, name: string | undefined, t: Typed) =>
        (await import('./warmup.ts')).warmupCommand(ctx, name, t),
      ),
    )
  program
    .command('demo')
    .description('a scripted player climbs a short ladder in the practice screen')
    .option('--fast', 'in virtual time, without sound or terminal')
    .option('--out <folder>', 'keep its sound, onsets, journal and last screen')
    .option('--output <name>', 'auto, silent, or an output as gradino sound lists them')
    .action(
      action(async (ctx, t: DemoTyped) =>
        (await import('./demo.ts')).demoCommand(ctx, program.opts<{ home?: string }>().home !== undefined, t),
      ),
    )
}
