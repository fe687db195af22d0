import type { Command } from 'commander'
import { type EditTyped, withEdits, withPassage } from './edit-options.ts'
import type { ImportTyped } from './piece-import.ts'
import type { ShowTyped } from './piece-show.ts'
import type { SplitTyped } from './piece-split.ts'
import type { TempoTyped } from './piece-tempo.ts'
import type { Action } from './preset-commands.ts'

/** `piece add`, `piece import` ..., and `pieces`. */
export const withPieces = (program: Command, action: Action): void => {
  const piece = program
    .command('piece')
    .description('pieces and their passages: add, import, show, edit, split, tempo, export, remove')
  withPassage(piece.command('add <title>'))
    .description('a passage; of a title that is there already, one more')
    .action(
      action(async (ctx, title: string, t: EditTyped) =>
        (await import('./piece-add.ts')).pieceAddCommand(ctx, title, t),
      ),
    )
  piece
    .command('import <file>')
    .description('a part from a score (.musicxml, .xml, .mxl), or a piece that someone exported (.json)')
    .option('--part <name>', 'which part, where the score holds several')
    .option('--movement <number>', 'one movement, by its number or name')
    .option('--whole', 'the whole part as one passage (the default)')
    .option('--passages', 'the whole part and its hardest passages')
    .option('--from <measure>', 'only from this measure on')
    .option('--to <measure>', 'only as far as this measure')
    .option('--as-played', 'with repeats and jumps carried out: measures come as often as they are played')
    .option('--title <title>', 'instead of the title in the file')
    .option('--goal <tempo>', 'goal tempo, instead of the printed one')
    .option('--ready-by <date>', 'the day by which it has to be ready: 2026-03-14')
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
}
