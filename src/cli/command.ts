import type { Command } from 'commander'
import { type Result, sentence } from '../music/result.ts'

/** An option as it is typed, and what it says of itself. */
type OptionRow = readonly [flags: string, says: string]

/** A command as the parser, the help, the completions and the manual page know it. */
export type CommandRow = {
  /** With what is named behind it: "read <name>". */
  readonly name: string
  readonly says: string
  /** Where the help lists it. */
  readonly group?: string
  readonly options?: readonly OptionRow[]
  /** Options that come from somewhere else. */
  readonly more?: (c: Command) => Command
  readonly under?: readonly CommandRow[]
}

type Camel<S> = S extends `${infer A}-${infer B}` ? `${A}${Capitalize<Camel<B>>}` : S
/** "countIn" for "--count-in <measures>", as the parser calls it; of two spellings the last. */
type KeyOf<Flags> = Flags extends `${string}, ${infer Last}`
  ? KeyOf<Last>
  : Flags extends `--${infer Name} ${string}`
    ? Camel<Name>
    : Flags extends `--${infer Name}`
      ? Camel<Name>
      : never
type ValueOf<Flags> = Flags extends `${string}<${string}`
  ? string
  : Flags extends `${string}[${string}`
    ? string | true
    : boolean

/** What may be typed behind a command of a row: its options, by their keys. */
export type TypedBehind<Row> = Row extends { readonly options: readonly (infer O)[] }
  ? {
      readonly [R in O as R extends OptionRow ? KeyOf<R[0]> : never]?: R extends OptionRow
        ? ValueOf<R[0]>
        : never
    }
  : object

/** One sentence for the player and the exit status: 1 = could not be done, 2 = bad option, name or value. */
export class Stop extends Error {
  readonly status: 1 | 2
  constructor(status: 1 | 2, message: string) {
    super(message)
    this.status = status
  }
}

/** The value, or the end of the command with one sentence: here, and only here, a problem becomes an exit status. */
export const must = <T>(r: Result<T>): T => {
  if (!r.ok) throw new Stop(r.problem.failed ? 1 : 2, sentence(r.problem))
  return r.value
}

/** The value of an option that was typed. */
export const ifSaid = <T>(text: string | undefined, read: (text: string) => Result<T>): T | undefined =>
  text === undefined ? undefined : must(read(text))
