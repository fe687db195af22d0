import type { Command } from 'commander'
import type { Context, Outcome } from '../app/context.ts'

/** An option as it is typed, and what it says of itself. */
export type OptionRow = readonly [flags: string, says: string]

/** A command, told to the parser and to the help; what it does is loaded when it is asked for. */
export type CommandRow = {
  /** With what is named behind it: "read <name>". */
  readonly name: string
  readonly says: string
  /** Where the help lists it. */
  readonly group?: string
  readonly options?: readonly OptionRow[]
  /** Options that come from somewhere else. */
  readonly more?: (c: Command) => Command
  /** Gets what is named, then the options as typed. */
  readonly load?: () => Promise<(ctx: Context, ...typed: never[]) => Promise<Outcome> | Outcome>
  readonly under?: readonly CommandRow[]
}

/** Options that several commands share. */
export const LADDER: readonly OptionRow[] = [
  ['--start <tempo>', 'start tempo: 60, or dotted-quarter=60'],
  ['--goal <tempo>', 'goal tempo: 120, or dotted-quarter=80'],
  ['--step <step>', 'notch (the traditional scale), 4% or +4'],
  ['--rungs <number>', 'this many rungs in equal ratio, start and goal included'],
  ['--down', 'lead down, from a faster start to a slower goal'],
]

export const MUSIC: readonly OptionRow[] = [
  ['--meter <meter>', '4/4, 6/8, 2+2+3/8 ...'],
  ['--measures <number>', 'how many measures the passage has'],
  ['--pickup <note value>', 'length of the pick-up'],
  ['--count-in <measures>', 'measures of count-in'],
  ['--subdivide <number>', 'clicks per beat; otherwise 2 (3 in a dotted one) while it is slow'],
  ['--pulse <note value>', 'the note value to count and click: half, or "quarter; half from 100"'],
  ['--beats <numbers>', 'click on these beats only: 2,4, or "all; 1 from 112"'],
  ['--on <measures>', 'click for this many measures, with --off: 2, or "all; 2 from 126"'],
  ['--off <measures>', 'then be silent for this many'],
  ['--rests <measures>', 'count this many measures of rest before the entrance, with --take entrance'],
  [
    '--tempo-changes <when>',
    'play tempo changes from this share of the goal on: 60% (usually 80%), or always',
  ],
  ['--free-ritardando', 'no click while the tempo slows down'],
  ['--rhythm <name>', 'an altered rhythm, by name or ratios: long-short, 3:1, 5:1:1:1/2'],
  ['--run <note value>', 'length of the running notes to alter (16th)'],
  ['--guide <what>', 'notes: the guide taps the rhythm of an imported part; or none'],
  ['--seam <what>', 'only where joined sections meet: beat or measure'],
]

export const OUTPUT: OptionRow = ['--output <name>', 'auto, silent, or an output that gradino sound lists']
