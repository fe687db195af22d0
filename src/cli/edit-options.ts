import { type Command, Option } from 'commander'
import type { Table } from '../repertoire/field.ts'
import { type Level, PASSAGE, TABLES } from '../repertoire/fields.ts'
import { KINDS, LISTS } from '../repertoire/lists.ts'

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
    const { name, put, drop: which, says } = KINDS[list].option
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
export const withEdits = (c: Command): Command => {
  for (const { flags, says, levels } of FIELDS) c.option(flags, `${levels.join(', ')}: ${says}`)
  withLists(c, 'passage: ', true)
  return c
    .option('--keep', 'keep the history, though the music changed')
    .option('--anew', 'begin the history anew where the music changed; old ceilings stay readable')
    .addHelpText('after', PLACES + HELP)
}

/** All that can be said about a new passage. */
export const withPassage = (c: Command): Command => {
  c.option('--passage <name>', 'what you call it; leave it out to use its measures')
  for (const [key, { option }] of Object.entries(PASSAGE)) if (key !== 'name') c.option(...option)
  withLists(c, '', false)
  return c.addHelpText('after', PLACES)
}
