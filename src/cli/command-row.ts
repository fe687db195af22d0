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
  ['--start <tempo>', 'first tempo: 60, or dotted-quarter=60'],
  ['--goal <tempo>', 'goal tempo: 120, or dotted-quarter=80'],
  ['--step <step>', 'notch (the traditional scale), 4% or +4'],
  ['--rungs <number>', 'so many rungs in equal ratio, start and goal included'],
  ['--down', 'a ladder that leads down, from a faster start to a slower goal'],
]

export const MUSIC: readonly OptionRow[] = [
  ['--meter <meter>', '4/4, 6/8, 2+2+3/8 ...'],
  ['--measures <number>', 'measures of the passage'],
  ['--pickup <note value>', 'note value before the first bar line'],
  ['--count-in <measures>', 'measures of count-in'],
  ['--subdivide <number>', 'clicks to a beat; else 2 (3 to a dotted one) while it is slow'],
  ['--pulse <note value>', 'the note value that is counted: half, or "quarter; half from 100"'],
  ['--beats <numbers>', 'click on these beats only: 2,4, or "all; 1 from 112"'],
  ['--on <measures>', 'click so many measures, with --off: 2, or "all; 2 from 126"'],
  ['--off <measures>', 'then so many without'],
  ['--rests <measures>', 'counted rests before the entrance, with --take entry'],
  ['--tempo-changes <when>', 'played from a share of the goal on: 60% (else 80%), or always'],
  ['--free-ritardando', 'no click while the tempo slows down'],
  ['--rhythm <name>', 'an altered rhythm by name or ratios: long-short, 3:1, 5:1:1:1/2'],
  ['--run <note value>', 'length of the running notes that are altered (16th)'],
  ['--guide <what>', 'notes: the guide taps the rhythm of a part that was read; or none'],
  ['--seam <what>', 'of joined sections only where they meet: beat or measure'],
]

export const OUTPUT: OptionRow = ['--output <name>', 'auto, silent, or an output as gradino sound lists them']
