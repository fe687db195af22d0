import type { Command } from 'commander'

export type ToldOption = {
  /** As the help shows it: "--out <file>". */
  readonly flags: string
  /** Each spelling, with its dashes. */
  readonly spelled: readonly string[]
  /** What stands behind it: "file"; null where nothing does. */
  readonly value: string | null
  readonly says: string
}

/** A command as completions and the manual page tell it: read from the parser, so never another list. */
export type Told = {
  /** Without the program's own name: [] for the program, ["piece", "add"] for one under another. */
  readonly path: readonly string[]
  /** What is named behind it: "<name>", "[passage]". */
  readonly named: string
  readonly says: string
  readonly group: string
  readonly options: readonly ToldOption[]
  readonly under: readonly Told[]
}

export const tell = (command: Command, path: readonly string[] = []): Told => {
  const help = command.createHelp()
  return {
    path,
    named: command.registeredArguments
      .map(a => {
        const name = `${a.name()}${a.variadic ? '...' : ''}`
        return a.required ? `<${name}>` : `[${name}]`
      })
      .join(' '),
    says: command.description(),
    group: command.helpGroup() ?? '',
    options: help.visibleOptions(command).map(o => ({
      flags: o.flags,
      spelled: [o.short, o.long].filter(s => s !== undefined && s !== null),
      value: o.required || o.optional ? (/[<[](.+?)[\]>]/.exec(o.flags)?.[1] ?? 'value') : null,
      says: o.description,
    })),
    under: help
      .visibleCommands(command)
      .filter(c => path.length === 0 || c.name() !== 'help')
      .map(c => tell(c, [...path, c.name()])),
  }
}

/** A command and all under it. */
export const everyCommand = (told: Told): readonly Told[] => [told, ...told.under.flatMap(everyCommand)]

/** What is typed last of its path. */
export const lastWord = (told: Told): string => told.path.at(-1) ?? 'gradino'

/** Behind these stands the name of a file or a folder. */
export const namesFile = (value: string | null): boolean => value === 'file' || value === 'folder'
