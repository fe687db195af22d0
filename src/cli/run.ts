import { Command, CommanderError } from 'commander'
import { version } from '../../package.json'
import { type Context, contextFrom, type Outcome } from '../app/context.ts'
import { printable } from '../music/result.ts'
import { type Tempo, typed } from '../music/tempo.ts'
import { inWindow } from '../screens/text-rows.ts'
import { ALL_CAUTIONS } from '../screens/words.ts'
import { StoreError } from '../store/trouble.ts'
import { type CommandRow, Stop } from './command.ts'
import { COMMANDS, type CommandPath, OUTPUT } from './commands.ts'

/** Gets what is named, the options as typed, and the command itself. */
type Does = (ctx: Context, ...typed: never[]) => Promise<Outcome> | Outcome

/** What a command does is loaded when it is asked for; without a word, the program opens the day. */
const LOAD: { readonly [P in CommandPath | '']: () => Promise<Does> } = {
  '': () => import('./home.ts').then(m => m.homeCommand),
  practice: () => import('./practice.ts').then(m => m.practiceCommand),
  click: () => import('./click.ts').then(m => m.clickCommand),
  read: () => import('./read.ts').then(m => m.readCommand),
  warmup: () => import('./warmup.ts').then(m => m.warmupCommand),
  demo: () => import('./demo.ts').then(m => m.demoCommand),
  'piece add': () => import('./piece-add.ts').then(m => m.pieceAddCommand),
  'piece import': () => import('./piece-import.ts').then(m => m.pieceImportCommand),
  'piece export': () => import('./piece-export.ts').then(m => m.pieceExportCommand),
  'piece show': () => import('./piece-show.ts').then(m => m.pieceShowCommand),
  'piece edit': () => import('./piece-edit.ts').then(m => m.pieceEditCommand),
  'piece split': () => import('./piece-split.ts').then(m => m.pieceSplitCommand),
  'piece tempo': () => import('./piece-tempo.ts').then(m => m.pieceTempoCommand),
  'piece remove': () => import('./piece-remove.ts').then(m => m.pieceRemoveCommand),
  pieces: () => import('./pieces.ts').then(m => m.piecesCommand),
  today: () => import('./today.ts').then(m => m.todayCommand),
  progress: () => import('./progress.ts').then(m => m.progressCommand),
  diary: () => import('./diary.ts').then(m => m.diaryCommand),
  calendar: () => import('./calendar.ts').then(m => m.calendarCommand),
  note: () => import('./note.ts').then(m => m.noteCommand),
  notes: () => import('./notes.ts').then(m => m.notesCommand),
  report: () => import('./report.ts').then(m => m.reportCommand),
  ladder: () => import('./ladder.ts').then(m => m.ladderCommand),
  render: () => import('./render.ts').then(m => m.renderCommand),
  presets: () => import('./presets.ts').then(m => m.presetsCommand),
  'preset add': () => import('./preset.ts').then(m => m.presetAddCommand),
  'preset save': () => import('./preset.ts').then(m => m.presetSaveCommand),
  setup: () => import('./setup.ts').then(m => m.setupCommand),
  sound: () => import('./sound.ts').then(m => m.soundCommand),
  completion: () => import('./completion.ts').then(m => m.completionCommand),
}

/** Runs a command with what was typed. */
type Act = (load: () => Promise<Does>, args: readonly unknown[]) => Promise<void>

/** The whole command line, told to the parser from the one list; completions and the manual page read it too. */
export const programOf = (act: Act): Command => {
  const add = (to: Command, row: CommandRow, above: string): void => {
    const command = to.command(row.name).description(row.says)
    if (row.group) command.helpGroup(`${row.group}:`)
    for (const [flags, says] of row.options ?? []) command.option(flags, says)
    row.more?.(command)
    // What sounds says in its help what practice can do to a body.
    if (row.options?.includes(OUTPUT)) command.addHelpText('after', `\n${ALL_CAUTIONS.join('\n')}`)
    const path = above + command.name()
    if (row.under) for (const under of row.under) add(command, under, `${path} `)
    else command.action((...args: unknown[]) => act(LOAD[path as CommandPath], args))
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
  for (const row of COMMANDS) add(program, row, '')
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

type Globals = { readonly home?: string; readonly json?: boolean; readonly plain?: boolean }

/** How a tempo stands in data for other programs: as `--goal` takes it. */
export const asData = (_: string, value: unknown): unknown =>
  typeof value === 'object' && value !== null && 'unit' in value && 'bpm' in value
    ? typed(value as Tempo)
    : value

/** Where an outcome is printed; one place for all commands. */
const print = (o: Outcome, json: boolean): void => {
  if (json && o.json !== undefined) process.stdout.write(`${JSON.stringify(o.json, asData, 2)}\n`)
  else
    for (const line of (o.lines ?? []).flatMap(l => inWindow(printable(l), process.stdout.columns)))
      process.stdout.write(`${line}\n`)
}

/** Parses the command line and runs one command. Resolves with the exit status: 0 done, 1 could not be done, 2 bad option or value. */
export const run = async (argv: readonly string[]): Promise<number> => {
  let status = 0
  const act: Act = async (load, args) => {
    const ctx = contextFrom(program.opts<Globals>())
    const outcome = await (await load())(ctx, ...(args as never[]))
    status = outcome.status ?? 0
    print(outcome, ctx.json)
  }
  const program = programOf(act).action(() => {
    const [unknown] = program.args
    if (unknown !== undefined)
      throw new Stop(2, `"${unknown}" isn't a command. gradino --help lists them all.`)
    return act(LOAD[''], [])
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
