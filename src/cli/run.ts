import { Command, CommanderError } from 'commander'
import { contextFrom, type Outcome } from '../app/context.ts'
import { printable } from '../music/result.ts'
import { StoreError } from '../store/trouble.ts'
import type { CommandRow } from './command-row.ts'
import { COMMANDS } from './commands.ts'
import { Stop } from './stop.ts'

type Globals = { readonly home?: string; readonly json?: boolean; readonly plain?: boolean }

/** Where an outcome is printed; one place for all commands. */
const print = (o: Outcome, json: boolean): void => {
  if (json && o.json !== undefined) process.stdout.write(`${JSON.stringify(o.json, null, 2)}\n`)
  else for (const line of o.lines ?? []) process.stdout.write(`${printable(line)}\n`)
}

/** Parses the command line and runs one command. Resolves with the exit status: 0 done, 1 could not be done, 2 bad option or value. */
export const run = async (argv: readonly string[]): Promise<number> => {
  const program = new Command('gradino')
  let status = 0
  const act = async (load: NonNullable<CommandRow['load']>, typed: readonly unknown[]): Promise<void> => {
    const ctx = contextFrom(program.opts<Globals>())
    const outcome = await (await load())(ctx, ...(typed as never[]))
    status = outcome.status ?? 0
    print(outcome, ctx.json)
  }
  const add = (to: Command, row: CommandRow): void => {
    const { load } = row
    const command = to.command(row.name).description(row.says)
    if (row.group) command.helpGroup(`${row.group}:`)
    for (const [flags, says] of row.options ?? []) command.option(flags, says)
    row.more?.(command)
    if (load) command.action((...args: unknown[]) => act(load, args.slice(0, -1)))
    for (const under of row.under ?? []) add(command, under)
  }

  program
    .description('Climb a tempo ladder in the practice room, hands-free.')
    .option('--home <folder>', 'keep everything under this folder (or GRADINO_HOME)')
    .option('--json', 'data for programs on standard output')
    .option('--plain', 'lines instead of a screen')
    .exitOverride()
    .configureOutput({ writeErr: () => {} })
    .enablePositionalOptions(false)
    .allowExcessArguments()
    .action(() => {
      const [unknown] = program.args
      if (unknown !== undefined) throw new Stop(2, `"${unknown}" is no command; gradino --help lists them.`)
      return act(() => import('./home.ts').then(m => m.homeCommand), [])
    })
  for (const row of COMMANDS) add(program, row)

  try {
    await program.parseAsync([...argv], { from: 'user' })
    return status
  } catch (error) {
    return explain(error)
  }
}

/** One sentence on standard error, never a stack trace, and the exit status. */
const explain = (error: unknown): number => {
  if (error instanceof CommanderError) {
    if (error.exitCode === 0) return 0
    process.stderr.write(`gradino: ${printable(error.message.replace(/^error: /, ''))}\n`)
    return 2
  }
  if (process.env.GRADINO_DEBUG && error instanceof Error) process.stderr.write(`${error.stack}\n`)
  const message = error instanceof Error ? error.message : String(error)
  const ours = error instanceof Stop || error instanceof StoreError
  process.stderr.write(
    `gradino: ${printable(ours ? message : `something went wrong that should not (${message}); nothing that was confirmed is lost.`)}\n`,
  )
  return error instanceof Stop ? error.status : 1
}
