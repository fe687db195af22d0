import { Command } from 'commander'
import { version } from '../../package.json'
import { ALL_CAUTIONS } from '../screens/words.ts'
import { type CommandRow, OUTPUT } from './command-row.ts'
import { COMMANDS } from './commands.ts'
import { Stop } from './stop.ts'

/** Runs what a row loads, with what was typed: what is named, the options, and the command itself. */
export type Act = (load: NonNullable<CommandRow['load']>, typed: readonly unknown[]) => Promise<void>

/** The whole command line, told to the parser from the one list; completions and the manual page read it too. */
export const programOf = (act: Act): Command => {
  const add = (to: Command, row: CommandRow): void => {
    const { load } = row
    const command = to.command(row.name).description(row.says)
    if (row.group) command.helpGroup(`${row.group}:`)
    for (const [flags, says] of row.options ?? []) command.option(flags, says)
    row.more?.(command)
    // What sounds says in its help what practice can do to a body.
    if (row.options?.includes(OUTPUT)) command.addHelpText('after', `\n${ALL_CAUTIONS.join('\n')}`)
    if (load) command.action((...args: unknown[]) => act(load, args))
    for (const under of row.under ?? []) add(command, under)
  }
  const program = new Command('gradino')
    .description('Climb a tempo ladder in the practice room, hands-free.')
    .version(version, '--version', 'print the version')
    .option('--home <folder>', 'keep everything in this folder (or set GRADINO_HOME)')
    .option('--json', 'print data for other programs')
    .option('--plain', 'lines of text instead of a screen')
    .helpOption('-h, --help', 'show this help')
    .exitOverride()
    .configureOutput({ writeErr: () => {} })
    .enablePositionalOptions(false)
    .allowExcessArguments()
    .helpCommand(false)
  for (const row of COMMANDS) add(program, row)
  program
    .command('help [command...]')
    .description('show what a command does, with its options: gradino help piece add')
    .helpGroup('Installation and help:')
    .action((names: readonly string[]) => helpOn(program, names))
  return program
}

/** Prints the help of the command that is named, which may stand under another one. */
const helpOn = (program: Command, names: readonly string[]): void => {
  let at = program
  for (const name of names) {
    const next = at.commands.find(c => c.name() === name)
    if (!next) throw new Stop(2, `"${names.join(' ')}" isn't a command. gradino --help lists them all.`)
    at = next
  }
  at.help()
}
