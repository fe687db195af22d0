import { CommanderError } from 'commander'
import { contextFrom, type Outcome } from '../app/context.ts'
import { printable } from '../music/result.ts'
import { inWindow } from '../screens/today/wrap.ts'
import { StoreError } from '../store/trouble.ts'
import { type Act, programOf } from './program.ts'
import { Stop } from './stop.ts'

type Globals = { readonly home?: string; readonly json?: boolean; readonly plain?: boolean }

/** Where an outcome is printed; one place for all commands. */
const print = (o: Outcome, json: boolean): void => {
  if (json && o.json !== undefined) process.stdout.write(`${JSON.stringify(o.json, null, 2)}\n`)
  else
    for (const line of (o.lines ?? []).flatMap(l => inWindow(printable(l), process.stdout.columns)))
      process.stdout.write(`${line}\n`)
}

/** Parses the command line and runs one command. Resolves with the exit status: 0 done, 1 could not be done, 2 bad option or value. */
export const run = async (argv: readonly string[]): Promise<number> => {
  let status = 0
  const act: Act = async (load, typed) => {
    const ctx = contextFrom(program.opts<Globals>())
    const outcome = await (await load())(ctx, ...(typed as never[]))
    status = outcome.status ?? 0
    print(outcome, ctx.json)
  }
  const program = programOf(act).action(() => {
    const [unknown] = program.args
    if (unknown !== undefined)
      throw new Stop(2, `"${unknown}" isn't a command. gradino --help lists them all.`)
    return act(() => import('./home.ts').then(m => m.homeCommand), [])
  })

  try {
    await program.parseAsync([...argv], { from: 'user' })
    return status
  } catch (error) {
    const under = program.commands.find(c => c.commands.length > 0 && argv.includes(c.name()))
    if (error instanceof CommanderError && error.code === 'commander.help' && under) {
      // A word under which commands stand, typed alone.
      process.stdout.write(under.helpInformation())
      return 2
    }
    return explain(error)
  }
}

/** One sentence on standard error, never a stack trace, and the exit status. */
const explain = (error: unknown): number => {
  if (error instanceof CommanderError) {
    if (error.exitCode === 0) return 0
    const [, missing] = /^error: missing required argument '(.+)'$/.exec(error.message) ?? []
    if (missing !== undefined) {
      process.stderr.write(`gradino: The ${missing} is missing. gradino --help shows what to type.\n`)
      return 2
    }
    const [, flags, value] =
      /^error: option '(?:-\w, )?(--[\w-]+) <(.+)>' argument missing$/.exec(error.message) ?? []
    if (flags !== undefined) {
      process.stderr.write(`gradino: ${flags} needs its ${value}. gradino --help shows what to type.\n`)
      return 2
    }
    process.stderr.write(`gradino: ${printable(error.message.replace(/^error: /, ''))}\n`)
    return 2
  }
  if (process.env.GRADINO_DEBUG && error instanceof Error) process.stderr.write(`${error.stack}\n`)
  const message = error instanceof Error ? error.message : String(error)
  const ours = error instanceof Stop || error instanceof StoreError
  process.stderr.write(
    `gradino: ${printable(ours ? message : `something went wrong inside Gradino (${message}). Nothing you confirmed is lost.`)}\n`,
  )
  return error instanceof Stop ? error.status : 1
}
