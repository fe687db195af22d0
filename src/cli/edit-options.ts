import { type Command, Option } from 'commander'
import type { ListKey } from '../repertoire/entries.ts'

export type Level = 'piece' | 'passage' | 'section'

/** An option that sets one field: as typed, the field's key, and what has it. */
type FieldOption = readonly [flags: string, key: string, says: string, ...levels: Level[]]

export const FIELDS: readonly FieldOption[] = [
  ['--title <text>', 'title', 'as it stands on the part', 'piece'],
  ['--concert <date>', 'concert', 'the day of the concert', 'piece'],
  ['--sure <word>', 'sure', 'how sure the goals are: guess, printed or conductor', 'piece'],
  ['--ready-by <date>', 'readyBy', 'the day by which it has to be ready', 'piece', 'passage'],
  ['--name <text>', 'name', 'what you call it', 'passage', 'section'],
  ['--in <measures>', 'measures', 'its place as printed: 41-44', 'passage'],
  ['--measures <number>', 'count', 'how many, where they do not follow from the place', 'passage'],
  [
    '--numbers <list>',
    'numbers',
    'what the measures are called, where they do not count on: "41 42 41 42 43"',
    'passage',
  ],
  ['--meter <meter>', 'meter', '4/4, 6/8, 2+2+3/8 ...', 'passage'],
  ['--pickup <note value>', 'pickup', 'note value before the first bar line', 'passage'],
  ['--ends <place>', 'ends', 'where it ends inside its last measure: 44.3', 'passage'],
  ['--start <tempo>', 'start', 'first tempo', 'passage'],
  ['--goal <tempo>', 'goal', 'goal tempo, or a range: 116-124', 'passage'],
  ['--goal-top <tempo>', 'goalTop', 'upper end of a goal that is a range', 'passage'],
  ['--run <length>', 'run', 'length of the running notes: 16th, or 1/12', 'passage'],
  ['--guide <what>', 'guide', 'notes: the guide taps the notes of the part that was read', 'passage'],
  [
    '--tempo-changes <when>',
    'tempoChanges',
    'from which share of the goal its tempos change: always, or 60% (else 80%)',
    'passage',
  ],
  ['--exposure <word>', 'exposure', 'solo, exposed or tutti', 'passage'],
  [
    '--pulse <note value>',
    'pulse',
    'what is counted and clicked: half, or "quarter; half from 100"',
    'passage',
  ],
  ['--subdivide <number>', 'subdivide', 'clicks to a beat: 2, or "2; 1 from 80"', 'passage'],
  ['--beats <numbers>', 'beats', 'the beats that click: 2,4, or "all; 1 from 112"', 'passage'],
  ['--on <measures>', 'on', 'so many measures click, with --off: 2, or "all; 2 from 126"', 'passage'],
  ['--off <measures>', 'off', 'then so many measures do not', 'passage'],
  ['--rests <measures>', 'rests', 'measures of rest that are counted before its entry', 'passage'],
  ['--note <text>', 'note', 'a word on the music', 'passage'],
  ['--from <place>', 'from', 'where it begins: 43, or 43.2', 'section'],
  ['--to <place>', 'to', 'where it ends: 44.2, or end', 'section'],
]

/** Options that put an entry into a list or, with "no-" before them, take one out; each may be repeated. */
export const ENTRIES: readonly {
  readonly name: string
  readonly list: ListKey
  readonly put: string
  readonly drop: string
  readonly says: string
}[] = [
  {
    name: 'rehearsal',
    list: 'rehearsals',
    put: '<place=mark>',
    drop: '<place>',
    says: 'a rehearsal mark as printed: 43=C',
  },
  {
    name: 'change',
    list: 'changes',
    put: '<measure=meter>',
    drop: '<measure>',
    says: 'another meter from a measure on: 43=3/4',
  },
  {
    name: 'tempo-mark',
    list: 'tempos',
    put: '<place=tempo>',
    drop: '<place>',
    says: 'another tempo from a place on: 43=half=66',
  },
  {
    name: 'breath',
    list: 'breaths',
    put: '<mark>',
    drop: '<place>',
    says: 'a breath or another mark: 42.4, or "43 slow below=96"',
  },
  {
    name: 'rhythm',
    list: 'rhythms',
    put: '<name>',
    drop: '<name>',
    says: 'an altered rhythm to practice it in: long-short, or 3:1',
  },
  {
    name: 'section',
    list: 'sections',
    put: '<name=from to>',
    drop: '<name>',
    says: 'a section by its two places: "2=43 to 44.2"',
  },
]

/** A ramp is a tempo that slides to the next one. */
export const RAMP = 'ramp'

export type Op = { readonly k: 'put' | 'drop'; readonly text: string }

/** `gradino piece edit`, as typed: texts, and what was put into lists or taken out. */
export type EditTyped = { readonly [option: string]: string | boolean | readonly Op[] | undefined }

/** "goalTop" for "--goal-top <tempo>", as commander calls it. */
export const optionKey = (flags: string): string => new Option(flags).attributeName()

const repeated = (flags: string, says: string, k: Op['k']): Option =>
  new Option(flags, says).argParser((text: string, before: readonly Op[] | undefined) => [
    ...(before ?? []),
    { k, text },
  ])

const HELP = `
An optional field is taken out by "none"; a whole list by "all", as --no-breath all.
Places: 43 (its bar line), 43.2 (its second beat), 43+3/16 (so much of a whole note into it), end.
Marks: PLACE [breath, slow, caesura, fermata, bow, turn, mute, instrument or look] [below=TEMPO] [adds=LENGTH] [waits] [word=TEXT]
Where the music itself changes and was practiced already, say --keep or --anew.
Without options, in a terminal, all this is a form.`

/** All that can be said about a piece, a passage or a section. */
export const withEdits = (c: Command): Command => {
  for (const [flags, , says, ...levels] of FIELDS) c.option(flags, `${levels.join(', ')}: ${says}`)
  for (const e of ENTRIES) {
    c.addOption(repeated(`--${e.name} ${e.put}`, `passage: ${e.says}`, 'put'))
    if (e.list === 'tempos')
      c.addOption(
        repeated(
          `--${RAMP} <place=tempo>`,
          'passage: from here evenly to the next tempo mark: 43.3=72, or 43.3',
          'put',
        ),
      )
    c.addOption(repeated(`--no-${e.name} ${e.drop}`, 'passage: takes it out', 'drop'))
  }
  return c
    .option('--keep', 'the history stays, though the music changed')
    .option('--anew', 'the history begins anew where the music changed; old ceilings stay readable')
    .addHelpText('after', HELP)
}
