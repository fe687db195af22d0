import type { Pedal } from './lock.ts'
import { keyLabel } from './words.ts'

/** One thing that keys do on a screen. What a key does, its hint, its help, and what can't be a pedal all come from here. */
export type KeyRow<C> = {
  /** As the settings and a refused pedal call it: "take back". The same thing has the same name on every screen. */
  readonly name: string
  /** The usual keys. */
  readonly keys: readonly string[]
  readonly does: C
  /** What many keys are called together: "0-9". */
  readonly label?: string
  /** Its word in the row of hints; absent = it is not there. */
  readonly hint?: string
  /** Its line in the help; absent = the help need not name it. */
  readonly help?: string
  /** What lies open on the screen when it counts; absent = everywhere. */
  readonly on?: readonly string[]
  /** The pedal that may send its keys, since it does the same here or is not listened to. */
  readonly pedal?: Pedal | 'any'
  /** Counts even where the key is a pedal: what is being typed is finished first. */
  readonly first?: true
}

/** Keys that are a pedal wherever pedals are listened to. */
export type FootRow = Omit<KeyRow<never>, 'does'> & { readonly foot: Pedal }

/** The key that opens something over a screen: what lies over it hears the key, not the screen. */
export type OpenRow = Omit<KeyRow<never>, 'does'> & { readonly opens: 'note' | 'help' }

export type KeyTable<C> = readonly (KeyRow<C> | FootRow | OpenRow)[]

/** The usual keys of pedals; a pedal may of course send them. */
export const FEET: readonly FootRow[] = [
  { name: 'the right pedal', keys: ['PageDown', 'Right'], foot: 'right', pedal: 'any' },
  { name: 'the left pedal', keys: ['PageUp', 'Left'], foot: 'left', pedal: 'any' },
]

/** Keys as the player wants them: other keys by name (empty = none), and whether single characters count alone. */
export type KeyChoice = { readonly keys: Readonly<Record<string, string>>; readonly letters: boolean }

export const USUAL_KEYS: KeyChoice = { keys: {}, letters: true }

/** What the player steers by: the pedals, how many there are, and the keys. */
export type Controls = {
  readonly right: string
  readonly left: string
  readonly pedals: 1 | 2
  readonly choice: KeyChoice
}

const isCharacter = (id: string): boolean => [...id].length === 1

/** Where single characters are off they count together with Alt (WCAG 2.2, 2.1.4: shortcuts can be turned off or changed). */
export const keysOf = (
  row: Omit<KeyRow<unknown>, 'does'>,
  { keys, letters }: KeyChoice,
): readonly string[] => {
  const own = keys[row.name]
  const chosen = own === undefined ? row.keys : own === '' ? [] : [own]
  return letters ? chosen : chosen.map(k => (isCharacter(k) ? `M-${k}` : k))
}

/** A row's first key as it is called; empty where the player took it away. */
export const keyOf = (row: Omit<KeyRow<unknown>, 'does'>, choice: KeyChoice): string => {
  const [key] = keysOf(row, choice)
  return key === undefined ? '' : keyLabel(key)
}

/** A press of a pedal or the command of a key. */
export type Pressed<C> =
  | { readonly kind: 'pedal'; readonly pedal: Pedal }
  | { readonly kind: 'key'; readonly does: C; readonly id: string }

/**
 * What a key means where `on` lies open. `feet` = pedals are listened to there; `text` = what is typed is text, also by a
 * pedal that sends a character.
 */
export const pressed = <C>(
  table: KeyTable<C>,
  on: string,
  id: string,
  c: Controls,
  { feet = true, text = false } = {},
): Pressed<C> | null => {
  const rows = table.filter(
    (r): r is KeyRow<C> | FootRow =>
      !('opens' in r) && (!r.on || r.on.includes(on)) && keysOf(r, c.choice).includes(id),
  )
  const row = rows.find(r => r.first)
  const foot = id === c.right ? 'right' : id === c.left && c.pedals === 2 ? 'left' : null
  if (!row && feet && foot && !(text && (isCharacter(id) || id === 'Space')))
    return { kind: 'pedal', pedal: foot }
  const found = row ?? rows.find(r => feet || !('foot' in r))
  if (!found) return null
  if ('foot' in found) return { kind: 'pedal', pedal: found.foot }
  // "M-t" is t where single characters are off.
  return { kind: 'key', does: found.does, id: c.choice.letters ? id : id.replace(/^M-(?=.$)/u, '') }
}

/** What a key opens where `on` lies open. A pedal, and what the player gave the key to do there, come first. */
export const opens = (
  table: KeyTable<unknown>,
  on: string,
  id: string,
  c: Controls,
): OpenRow['opens'] | null => {
  const row = table.find(
    (r): r is OpenRow => 'opens' in r && (!r.on || r.on.includes(on)) && keysOf(r, c.choice).includes(id),
  )
  return row && pressed(table, on, id, c) === null ? row.opens : null
}

const labelOf = (row: Omit<KeyRow<unknown>, 'does'>, keys: readonly string[]): string =>
  row.label ?? keys.map(keyLabel).join(' ')

/** The rows that count where `on` lies open; of one name the first. */
const open = (table: KeyTable<unknown>, on: string): KeyTable<unknown> =>
  table.filter(
    (r, i) =>
      (!r.on || r.on.includes(on)) &&
      table.findIndex(x => x.name === r.name && (!x.on || x.on.includes(on))) === i,
  )

/** "t take back": the rows with a hint that count where `on` lies open; "with Alt:" first where characters need it. */
export const keyHints = (table: KeyTable<unknown>, on: string, choice: KeyChoice): readonly string[] => {
  const hints = open(table, on).flatMap(r => {
    const [key] = keysOf(r, { ...choice, letters: true })
    return r.hint === undefined || key === undefined ? [] : [`${r.label ?? keyLabel(key)} ${r.hint}`]
  })
  return choice.letters || hints.length === 0 ? hints : ['with Alt:', ...hints]
}

/** A line of the help for each thing that has one: its keys, and what they do. */
export const keyHelp = (
  table: KeyTable<unknown>,
  choice: KeyChoice,
): readonly (readonly [keys: string, does: string])[] =>
  table.flatMap(r => {
    const keys = keysOf(r, choice)
    return r.help === undefined || keys.length === 0 ? [] : [[labelOf(r, keys), r.help] as const]
  })

/** Keys that a pedal can't send, over all screens, and what each means: `{ t: 'take back' }`. */
export const takenKeys = (
  tables: readonly KeyTable<unknown>[],
  choice: KeyChoice,
  pedal: Pedal,
): Readonly<Record<string, string>> =>
  Object.fromEntries(
    tables
      .flat()
      .filter(r => r.pedal !== 'any' && r.pedal !== pedal)
      .flatMap(r => keysOf(r, choice).map(k => [k, r.name] as const))
      .reverse(),
  )
