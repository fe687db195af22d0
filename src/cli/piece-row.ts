import type { CommandRow } from './command-row.ts'
import { withEdits, withPassage } from './edit-options.ts'

/** `gradino piece` and what stands under it. */
export const PIECE: CommandRow = {
  name: 'piece',
  group: 'Pieces',
  says: 'keep pieces and passages: add, import, show, edit, split, tempo, export, remove',
  under: [
    {
      name: 'add <title>',
      says: 'add a passage, to a new piece or to one you have',
      more: withPassage,
      load: () => import('./piece-add.ts').then(m => m.pieceAddCommand),
    },
    {
      name: 'import <file>',
      says: 'import a part from a score (.musicxml, .xml, .mxl), or a piece that someone exported (.json); any part of its name or title will do; in a terminal it asks what to take',
      options: [
        ['--part <name>', 'which part, if the score has several: any part of its name'],
        ['--movement <number>', 'one movement, by number or name'],
        ['--pieces', 'each movement as a piece of its own'],
        ['--whole', 'the whole part as one passage, or one for each movement'],
        ['--passages', 'only the hardest passages'],
        ['--from <measure>', 'start at this measure or rehearsal mark: 12, C, C+4'],
        ['--to <measure>', 'stop after this measure, or before this mark'],
        ['--as-played', 'play out repeats and jumps: each measure as often as you play it'],
        ['--own-holds', 'leave out fermatas that only other parts have'],
        ['--title <title>', 'use this title instead of the one in the file'],
        ['--goal <tempo>', 'goal tempo, instead of the printed one; open = wait for the rehearsal'],
        ['--ready-by <date>', 'the day it has to be ready by: "March 14", Friday, "in 6 days"'],
        ['--again', 'if you already have the piece: add what is missing'],
      ],
      load: () => import('./piece-import.ts').then(m => m.pieceImportCommand),
    },
    {
      name: 'export <name> <file>',
      says: 'write a piece, or one passage of it, to a .json file you can share',
      options: [['--force', 'replace the file if it exists']],
      load: () => import('./piece-export.ts').then(m => m.pieceExportCommand),
    },
    {
      name: 'show <name>',
      says: 'show a piece, or one passage (PIECE/PASSAGE)',
      options: [
        ['--breath-seconds <seconds>', 'how long you can play in one breath; shows where that is too short'],
      ],
      load: () => import('./piece-show.ts').then(m => m.pieceShowCommand),
    },
    {
      name: 'edit <name>',
      says: 'change a piece, a passage (PIECE/PASSAGE) or a section (PIECE/PASSAGE/SECTION)',
      more: withEdits,
      load: () => import('./piece-edit.ts').then(m => m.pieceEditCommand),
    },
    {
      name: 'split <name>',
      says: 'cut PIECE/PASSAGE into sections 1, 2, 3 ..., each going on over the first note of the next',
      options: [
        ['--by <what>', 'measure, half or beat'],
        ['--at <places>', 'where the second, third ... begin: 42,43.3'],
        ['--again', 'replace the sections you have'],
      ],
      load: () => import('./piece-split.ts').then(m => m.pieceSplitCommand),
    },
    {
      name: 'tempo <name> <tempo>',
      says: 'set the true tempo after a rehearsal (126, half=63) or a ratio (x0.92); all goals follow',
      options: [
        [
          '--breath-seconds <seconds>',
          'how long you can play in one breath; shows where that is now too short',
        ],
      ],
      load: () => import('./piece-tempo.ts').then(m => m.pieceTempoCommand),
    },
    {
      name: 'remove <name>',
      says: 'take a piece or passage off your list; what you practiced stays in the journal',
      options: [['--all', 'the whole piece, even with several passages']],
      load: () => import('./piece-remove.ts').then(m => m.pieceRemoveCommand),
    },
  ],
}
