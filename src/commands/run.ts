import { Command, CommanderError } from 'commander'
import { printable } from '../music/result.ts'
import { StoreError } from '../store/trouble.ts'
import type { CalendarTyped } from './calendar.ts'
import type { ClickTyped } from './click.ts'
import { type Context, contextFrom, type Outcome, Stop } from './context.ts'
import type { DemoTyped } from './demo.ts'
import type { DiaryTyped } from './diary.ts'
import { type EditTyped, withEdits } from './edit-options.ts'
import type { NoteTyped } from './note.ts'
import { type Typed, withLadder, withMusic } from './options.ts'
import type { PieceTyped } from './piece-add.ts'
import type { ImportTyped } from './piece-import.ts'
import type { ShowTyped } from './piece-show.ts'
import type { SplitTyped } from './piece-split.ts'
import type { TempoTyped } from './piece-tempo.ts'
import { withPlan } from './plan-commands.ts'
import { withPresets } from './preset-commands.ts'
import type { ReadTyped } from './read.ts'
import type { RenderTyped } from './render.ts'
import type { ReportTyped } from './report.ts'
import type { SetupTyped } from './setup.ts'

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
  const action =
    <A extends unknown[]>(f: (ctx: Context, ...args: A) => Promise<Outcome> | Outcome) =>
    async (...args: unknown[]): Promise<void> => {
      const given = program.opts<Globals>()
      const ctx = contextFrom(given)
      const outcome = await f(ctx, ...(args.slice(0, -1) as A))
      status = outcome.status ?? 0
      print(outcome, ctx.json)
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
    .action(
      action(async ctx => {
        const [unknown] = program.args
        if (unknown !== undefined) throw new Stop(2, `"${unknown}" is no command; gradino --help lists them.`)
        return (await import('./home.ts')).homeCommand(ctx)
      }),
    )

  withMusic(withLadder(program.command('practice [passage]')))
    .description('the practice screen: PIECE/PASSAGE, or --goal alone for a quick ladder')
    .option('--clean <rule>', '3-in-a-row, 8-in-all or 4-of-5')
    .option('--after <what>', 'wait (for the pedal) or go-on (by itself)')
    .option(
      '--take <kind>',
      'once and apart from the ladder: cold, entry (only the count-in sounds), goal, beat, silent',
    )
    .option('--output <name>', 'auto, silent, or an output as gradino sound lists them')
    .action(
      action(async (ctx, name: string | undefined, t: Typed) =>
        (await import('./practice.ts')).practiceCommand(ctx, name, t),
      ),
    )
  const piece = program
    .command('piece')
    .description('pieces and their passages: add, import, show, export, remove')
  piece
    .command('add <title>')
    .description('a passage; of a title that is there already, one more')
    .option('--passage <name>', 'what you call it; else it is named by its measures')
    .option('--in <measures>', 'its place as printed in the part: 41-44')
    .option('--measures <number>', 'how many, where they do not follow from the place')
    .option('--meter <meter>', '4/4 (the default), 6/8, 2+2+3/8 ...')
    .option('--pickup <note value>', 'note value before the first bar line')
    .option('--start <tempo>', 'first tempo; without it the first visit looks for it')
    .option('--goal <tempo>', 'goal tempo: 120, or dotted-quarter=80')
    .option('--ready-by <date>', 'the day by which it has to stand: 2026-03-14')
    .option('--note <text>', 'a word on the music, shown while practicing')
    .action(
      action(async (ctx, title: string, t: PieceTyped) =>
        (await import('./piece-add.ts')).pieceAddCommand(ctx, title, t),
      ),
    )
  piece
    .command('import <file>')
    .description('a part from a score (.musicxml, .xml, .mxl), or a piece that someone exported (.json)')
    .option('--part <name>', 'which part, where the score holds several')
    .option('--whole', 'the whole part as one passage (the default)')
    .option('--passages', 'the whole part and its hardest passages')
    .option('--from <measure>', 'only from this measure on')
    .option('--to <measure>', 'only as far as this measure')
    .option('--title <title>', 'instead of the title in the file')
    .option('--goal <tempo>', 'goal tempo, instead of the printed one')
    .option('--ready-by <date>', 'the day by which it has to stand: 2026-03-14')
    .option('--again', 'of a title that is there already: add what is not there yet')
    .action(
      action(async (ctx, file: string, t: ImportTyped) =>
        (await import('./piece-import.ts')).pieceImportCommand(ctx, file, t),
      ),
    )
  piece
    .command('export <name> <file>')
    .description('a piece, or one passage of it, as a .json file to share')
    .option('--force', 'write over a file that is there')
    .action(
      action(async (ctx, name: string, file: string, t: { force?: boolean }) =>
        (await import('./piece-export.ts')).pieceExportCommand(ctx, name, file, t),
      ),
    )
  piece
    .command('show <name>')
    .description('a piece, or one passage as PIECE/PASSAGE')
    .option('--breath-seconds <seconds>', 'what you can play in one breath: says where that is too short')
    .action(
      action(async (ctx, name: string, t: ShowTyped) =>
        (await import('./piece-show.ts')).pieceShowCommand(ctx, name, t),
      ),
    )
  withEdits(piece.command('edit <name>'))
    .description('changes a piece, a passage (PIECE/PASSAGE) or a section (PIECE/PASSAGE/SECTION)')
    .action(
      action(async (ctx, name: string, t: EditTyped) =>
        (await import('./piece-edit.ts')).pieceEditCommand(ctx, name, t),
      ),
    )
  piece
    .command('split <name>')
    .description('cuts PIECE/PASSAGE into sections 1, 2, 3 ..., each over the first note of the next one')
    .option('--by <what>', 'measure, half or beat')
    .option('--at <places>', 'where the second, third ... begin: 42,43.3')
    .option('--again', 'in place of the sections that are there')
    .action(
      action(async (ctx, name: string, t: SplitTyped) =>
        (await import('./piece-split.ts')).pieceSplitCommand(ctx, name, t),
      ),
    )
  piece
    .command('tempo <name> <tempo>')
    .description(
      'the true tempo after a rehearsal (126, half=63) or a ratio (x0.92): all goals scale with it',
    )
    .option('--breath-seconds <seconds>', 'what you can play in one breath: says where that is too short now')
    .action(
      action(async (ctx, name: string, tempo: string, t: TempoTyped) =>
        (await import('./piece-tempo.ts')).pieceTempoCommand(ctx, name, tempo, t),
      ),
    )
  piece
    .command('remove <name>')
    .description('takes it out of the repertoire; what was practiced stays')
    .option('--all', 'a whole piece with several passages')
    .action(
      action(async (ctx, name: string, t: { all?: boolean }) =>
        (await import('./piece-remove.ts')).pieceRemoveCommand(ctx, name, t),
      ),
    )
  program
    .command('pieces')
    .description('the repertoire: goals, ceilings, dates, and where the next visit begins')
    .action(action(async ctx => (await import('./pieces.ts')).piecesCommand(ctx)))
  withPlan(program, action)
  program
    .command('diary')
    .description('what was practiced: this week, or from a day on')
    .option('--from <date>', 'the first day: 2026-03-14')
    .option('--csv <file>', 'as a table; of everything, where no day is named')
    .option('--check', 'read every line of every file and say what is damaged')
    .action(action(async (ctx, t: DiaryTyped) => (await import('./diary.ts')).diaryCommand(ctx, t)))
  program
    .command('note [text...]')
    .description('a note of your own: as it is, for tomorrow, for the teacher, of pain, or what went wrong')
    .option('--tomorrow', 'the first thing tomorrow')
    .option('--teacher', 'a question for the teacher')
    .option('--pain', 'any pain? a word is enough, and none is needed')
    .option('--wrong <what>', 'what went wrong: notes, rhythm, breath or sound')
    .option('--at <place>', 'where it went wrong: a measure, or measure and beat as 43.2')
    .option('--for <name>', 'PIECE or PIECE/PASSAGE')
    .action(
      action(async (ctx, words: string[], t: NoteTyped) =>
        (await import('./note.ts')).noteCommand(ctx, words, t),
      ),
    )
  program
    .command('notes')
    .description('all notes')
    .action(action(async ctx => (await import('./notes.ts')).notesCommand(ctx)))
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
    .command('calendar')
    .description('the days until the date as iCalendar')
    .option('--out <file>', 'the file to write: its name ends in .ics')
    .option('--minutes <number>', 'minutes of practice a day (40)')
    .action(action(async (ctx, t: CalendarTyped) => (await import('./calendar.ts')).calendarCommand(ctx, t)))
  program
    .command('report <name>')
    .description('a page for a lesson: PIECE, or PIECE/PASSAGE')
    .option('--out <file>', 'the file to write: its ending says which kind (.md, .txt)')
    .option('--from <date>', 'the first day; else the first on which it was played')
    .option('--with-notes', 'with your own notes, those of pain too')
    .action(
      action(async (ctx, name: string, t: ReportTyped) =>
        (await import('./report.ts')).reportCommand(ctx, name, t),
      ),
    )
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
  withPresets(program, action)
  program
    .command('setup')
    .description('the pedals, by pressing them; or one setting by an option')
    .option('--show', 'say what is set')
    .option('--pedals <number>', '1 or 2')
    .option('--after <what>', 'wait or go-on')
    .option('--output <name>', 'auto, silent, or an output as gradino sound lists them')
    .option('--latency <milliseconds>', 'how much later the click is heard (wireless speakers)')
    .option('--a <hertz>', 'the A above middle C, for tones to tune to: 440')
    .option('--transposition <note>', 'what sounds when C is written: C, Bb, A, F, Eb, or Eb4')
    .option('--steady <yes or no>', 'a longer queue of sound, for a busy computer')
    .action(action(async (ctx, t: SetupTyped) => (await import('./setup.ts')).setupCommand(ctx, t)))
  program
    .command('sound')
    .description('the outputs: which work, and why not')
    .option('--test', 'play four beats')
    .option('--output <name>', 'the output to play through')
    .action(
      action(async (ctx, t: { test?: boolean; output?: string }) =>
        (await import('./sound.ts')).soundCommand(ctx, t),
      ),
    )
  withLadder(program.command('ladder'))
    .description('the rungs from start to goal')
    .action(action(async (_, t: Typed) => (await import('./ladder.ts')).ladderCommand(t)))
  withMusic(withLadder(program.command('render [passage]')))
    .description('a click track, or a whole ladder, as a WAV or MIDI file')
    .option('--out <file>', 'the file to write: its ending says which kind (.wav, .mid)')
    .option('--tempo <tempo>', 'one tempo instead of a ladder: 112, or dotted-quarter=80')
    .option('--times <number>', 'repetitions of each tempo (1)')
    .option('--rate <number>', 'frames a second (48000)')
    .option('--onsets <file>', 'a table of all clicks as JSON: frame, seconds, role, measure, beat')
    .action(
      action(async (ctx, name: string | undefined, t: RenderTyped) =>
        (await import('./render.ts')).renderCommand(ctx, name, t),
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
        (await import('./demo.ts')).demoCommand(ctx, program.opts<Globals>().home !== undefined, t),
      ),
    )

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
