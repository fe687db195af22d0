import { type Command, Option } from 'commander'
import type { Table } from '../repertoire/field.ts'
import { type Level, PASSAGE, TABLES } from '../repertoire/fields.ts'
import { KINDS, LISTS } from '../repertoire/lists.ts'
import type { CommandRow } from './command.ts'

/** An option that sets one field: as typed, the field's key, what it says, and what has it. */
type FieldOption = {
  readonly flags: string
  readonly key: string
  readonly says: string
  readonly levels: Level[]
}

/** The options of the fields, from their tables; one that several levels have stands once. */
export const FIELDS: readonly FieldOption[] = (() => {
  const all = new Map<string, FieldOption>()
  for (const [level, table] of Object.entries(TABLES as { readonly [L in Level]: Table }))
    for (const [key, { option }] of Object.entries(table)) {
      const [flags, says] = option
      const known = all.get(flags) ?? { flags, key, says, levels: [] }
      known.levels.push(level as Level)
      all.set(flags, known)
    }
  return [...all.values()]
})()

/** A ramp is a tempo that slides to the next one. */
export const RAMP = 'ramp'

export type Op = { readonly kind: 'put' | 'drop'; readonly text: string }

/** `gradino piece edit`, as typed: texts, and what was put into lists or taken out. */
export type EditTyped = { readonly [option: string]: string | boolean | readonly Op[] | undefined }

/** "goalTop" for "--goal-top <tempo>", as commander calls it. */
export const optionKey = (flags: string): string => new Option(flags).attributeName()

const repeated = (flags: string, says: string, k: Op['kind']): Option =>
  new Option(flags, says).argParser((text: string, before: readonly Op[] | undefined) => [
    ...(before ?? []),
    { kind: k, text },
  ])

const PLACES = `
"none" takes a value out, "all" a whole list: --no-breath all.
Places: 43 (its bar line), 43.2 (its second beat), 43.2+eighth (an eighth after it), end.
Marks: PLACE [breath, slow, caesura, fermata, bow, turn, mute, instrument or look] [below=TEMPO] [adds=LENGTH] [note=LENGTH] [waits] [word=TEXT]
`
const HELP = `If you change music you have practiced, add --keep or --anew.
In a terminal, leave out all options to get a form.`

/** Options that put an entry into a list of a passage; with `drop` also those that take one out. */
const withLists = (c: Command, of: string, drop: boolean): void => {
  for (const list of LISTS) {
    const [name, put, which, says] = KINDS[list].option
    c.addOption(repeated(`--${name} ${put}`, of + says, 'put'))
    if (list === 'tempos')
      c.addOption(
        repeated(
          `--${RAMP} <place=tempo>`,
          `${of}slide evenly from here to the next tempo mark: 43.3=72, or 43.3`,
          'put',
        ),
      )
    if (drop) c.addOption(repeated(`--no-${name} ${which}`, `${of}take it out`, 'drop'))
  }
}

/** All that can be said about a piece, a passage or a section. */
const withEdits = (c: Command): Command => {
  for (const { flags, says, levels } of FIELDS) c.option(flags, `${levels.join(', ')}: ${says}`)
  withLists(c, 'passage: ', true)
  return c
    .option('--keep', 'keep the history, though the music changed')
    .option('--anew', 'begin the history anew where the music changed; old ceilings stay readable')
    .addHelpText('after', PLACES + HELP)
}

/** All that can be said about a new passage. */
const withPassage = (c: Command): Command => {
  c.option('--passage <name>', 'what you call it; leave it out to use its measures')
  for (const [key, { option }] of Object.entries(PASSAGE)) if (key !== 'name') c.option(...option)
  withLists(c, '', false)
  return c.addHelpText('after', PLACES)
}

/** `gradino piece` and what stands under it. */
export const PIECE = {
  name: 'piece',
  group: 'Pieces',
  says: 'keep pieces and passages: add, import, show, edit, split, tempo, export, remove',
  under: [
    {
      name: 'add <title>',
      says: 'add a passage, to a new piece or to one you have',
      more: withPassage,
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
    },
    {
      name: 'export <name> <file>',
      says: 'write a piece, or one passage of it, to a .json file you can share',
      options: [['--force', 'replace the file if it exists']],
    },
    {
      name: 'show <name>',
      says: 'show a piece, or one passage (PIECE/PASSAGE)',
      options: [
        ['--breath-seconds <seconds>', 'how long you can play in one breath; shows where that is too short'],
      ],
    },
    {
      name: 'edit <name>',
      says: 'change a piece, a passage (PIECE/PASSAGE) or a section (PIECE/PASSAGE/SECTION)',
      more: withEdits,
    },
    {
      name: 'split <name>',
      says: 'cut PIECE/PASSAGE into sections 1, 2, 3 ..., each going on over the first note of the next',
      options: [
        ['--by <what>', 'measure, half or beat'],
        ['--at <places>', 'where the second, third ... begin: 42,43.3'],
        ['--again', 'replace the sections you have'],
      ],
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
    },
    {
      name: 'remove <name>',
      says: 'take a piece or passage off your list; what you practiced stays in the journal',
      options: [['--all', 'the whole piece, even with several passages']],
    },
  ],
} as const satisfies CommandRow
