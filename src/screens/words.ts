import { noteValueName } from '../music/note-value.ts'
import type { Tempo } from '../music/tempo.ts'
import { keyLabel } from '../terminal/words.ts'

/** Below 40x12 a screen is one sentence: what the window is too small for. */
export const tooSmallText = (what: string): string =>
  `The window is too small ${what}: at least 40 columns and 12 rows.`

/** How one pedal chooses, for the help. */
export const onePedalChooses = (thing: string, all: readonly string[]): string =>
  `a second press within two seconds: the next ${thing} (${all.join(', ')}); once it has stood for two seconds, a press takes it`

/** The same where it leads through a list. */
export const ONE_PEDAL_LISTS =
  'One pedal: a press goes to the next line. When a line has stood for two seconds, a press takes it. After ten more a press only wakes it again.'

/** Under a page of the help. */
export const ANY_KEY_BACK = 'Any key goes back.'
export const nextPage = (page: number, of: number): string =>
  `${page} of ${of}. Any key: the next page. Escape goes back.`

/** Spoken, since there is no mark to follow. */
export const NO_SOUND = 'No sound: follow the beat by yourself.'
export const CLICK_OFF = 'The click is off; + makes it louder.'
export const clickThrough = (level: string, absent: string | null): string =>
  `The click is ${level}.${absent === null ? '' : ` "${absent}" isn't here; the usual device plays.`}`

/** The usual cautions, said once before the first screen that sounds, and then in the help. */
export const CAUTIONS: readonly string[] = [
  'Rest five minutes in each half hour.',
  'Stop when it hurts, and see a physician or therapist who treats musicians.',
  'Keep the click quiet in headphones.',
]
/** The same with what to do about the ears, where there is room for a line more. */
export const ALL_CAUTIONS: readonly string[] = [
  ...CAUTIONS,
  'If your ears ring or sound dull, see a physician or audiologist.',
]
/** In one row, at two widths, for the first screen that sounds; the help has all of it. */
export const CAUTIONS_IN_A_ROW = [
  'Rest 5 minutes each half hour. Stop when it hurts. Quiet in headphones. ? help',
  'Rest often. Stop when it hurts. ? help',
] as const

export const keyTaken = (key: string, use: string): string =>
  `"${key}" is already used for ${use}. Choose a free key.`

/** "2 more above, 3 more below", or empty where all is shown. */
export const notShown = (above: number, below: number): string =>
  [above > 0 ? `${above} more above` : '', below > 0 ? `${below} more below` : ''].filter(Boolean).join(', ')

/** Names of the two pedal keys as set up. */
export type KeyNames = { readonly right: string; readonly left: string }
export const keyNames = ({ right, left }: KeyNames): KeyNames => ({
  right: keyLabel(right),
  left: keyLabel(left),
})

/** What the pedals do: "right (Page Down): start   left (Page Up): tap a tempo", or both the same. */
export const pedalsDo = (pedals: 1 | 2, keys: KeyNames, right: string, left = right): string => {
  if (pedals === 1) return `pedal (${keys.right}): ${right}`
  return right === left
    ? `either pedal (${keys.right}, ${keys.left}): ${right}`
    : `right (${keys.right}): ${right}   left (${keys.left}): ${left}`
}

/** The same without the names of the keys, for a small window. */
export const briefly = (hint: string): string => hint.replaceAll(/ \([^)]*\)/g, '')

/** "dotted quarter" */
export const unitWords = (t: Tempo): string => noteValueName(t.unit).replaceAll('-', ' ')

/** Parts of a row that are not empty: "a, b". */
export const joined = (parts: readonly string[], between = ', '): string =>
  parts.filter(p => p !== '').join(between)
