import type { CommandRow } from './command-row.ts'
import { withEdits, withPassage } from './edit-options.ts'

/** `gradino piece` and what stands under it. */
export const PIECE: CommandRow = {
  name: 'piece',
  group: 'Pieces',
  says: 'pieces and their passages: add, import, show, edit, split, tempo, export, remove',
  under: [
    {
      name: 'add <title>',
      says: 'a passage; with a title you already have, one more',
      more: withPassage,
      load: () => import('./piece-add.ts').then(m => m.pieceAddCommand),
    },
    {
      name: 'import <file>',
      says: 'a part from a score (.musicxml, .xml, .mxl), or a piece that someone exported (.json); any part of its name or title will do; in a terminal it asks what to take',
      options: [
        ['--part <name>', 'which part, where the score holds several: any part of its name'],
        ['--movement <number>', 'one movement, by its number or name'],
        ['--pieces', 'each movement as a piece of its own'],
        ['--whole', 'the whole part as one passage, each movement one'],
        ['--passages', 'its hardest passages only'],
        ['--from <measure>', 'only from this measure or rehearsal mark on: 12, C, C+4'],
        ['--to <measure>', 'only as far as this measure, or up to this mark'],
        ['--as-played', 'with repeats and jumps carried out: measures come as often as they are played'],
        ['--own-holds', 'without the fermatas that stand in other parts only'],
        ['--title <title>', 'instead of the title in the file'],
        ['--goal <tempo>', 'goal tempo, instead of the printed one; open = the rehearsal will say'],
        ['--ready-by <date>', 'the day it has to be ready by: "14 March", Friday, "in 6 days"'],
        ['--again', 'with a title you already have: add what is missing'],
      ],
      load: () => import('./piece-import.ts').then(m => m.pieceImportCommand),
    },
    {
      name: 'export <name> <file>',
      says: 'a piece, or one passage of it, as a .json file to share',
      options: [['--force', 'replace the file if it exists']],
      load: () => import('./piece-export.ts').then(m => m.pieceExportCommand),
    },
    {
      name: 'show <name>',
      says: 'a piece, or one passage as PIECE/PASSAGE',
      options: [
        ['--breath-seconds <seconds>', 'what you can play in one breath: says where that is too short'],
      ],
      load: () => import('./piece-show.ts').then(m => m.pieceShowCommand),
    },
    {
      name: 'edit <name>',
      says: 'changes a piece, a passage (PIECE/PASSAGE) or a section (PIECE/PASSAGE/SECTION)',
      more: withEdits,
      load: () => import('./piece-edit.ts').then(m => m.pieceEditCommand),
    },
    {
      name: 'split <name>',
      says: 'cuts PIECE/PASSAGE into sections 1, 2, 3 ..., each over the first note of the next one',
      options: [
        ['--by <what>', 'measure, half or beat'],
        ['--at <places>', 'where the second, third ... begin: 42,43.3'],
        ['--again', 'in place of the sections that are there'],
      ],
      load: () => import('./piece-split.ts').then(m => m.pieceSplitCommand),
    },
    {
      name: 'tempo <name> <tempo>',
      says: 'the true tempo after a rehearsal (126, half=63) or a ratio (x0.92): all goals scale with it',
      options: [
        ['--breath-seconds <seconds>', 'what you can play in one breath: says where that is too short now'],
      ],
      load: () => import('./piece-tempo.ts').then(m => m.pieceTempoCommand),
    },
    {
      name: 'remove <name>',
      says: 'takes it out of the repertoire; what was practiced stays',
      options: [['--all', 'a whole piece with several passages']],
      load: () => import('./piece-remove.ts').then(m => m.pieceRemoveCommand),
    },
  ],
}
